package webtest

import (
	"context"
	"errors"
	"fmt"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Click clicks, or on a phone taps, the element with an ARIA role such as
// "button" or "link" and an accessible name. It does not wait for what
// follows; see Follow and WaitText.
func (p *Page) Click(role, name string) {
	p.t.Helper()
	e := p.find([]string{role}, name)
	p.Do("clicking "+e.String(), p.press(p.target(e)))
}

// Follow clicks and waits for the page that loads in answer. It returns the
// page's status.
func (p *Page) Follow(role, name string) int {
	p.t.Helper()
	e := p.find([]string{role}, name)
	at := p.target(e)
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	response, err := chromedp.RunResponse(ctx, p.press(at))
	if err != nil || response == nil {
		p.t.Fatalf("following %s: no page came (%v)", e, err)
	}
	return int(response.Status)
}

// Press presses a key of package kb, such as kb.Enter, or types text.
func (p *Page) Press(keys string, modifiers ...kb.Modifier) {
	p.t.Helper()
	p.Do("pressing keys", chromedp.KeyEvent(keys, chromedp.KeyModifiers(modifiers...)))
}

// point is where to touch an element, or why it cannot be.
type point struct {
	X, Y  float64
	Wrong string
}

// middle scrolls the element into view and finds the middle of its first
// box. A label may stand over its own field.
const middle = `function () {
	this.scrollIntoView({block: "center", inline: "center", behavior: "instant"});
	const box = [...this.getClientRects()].find(b => b.width > 0 && b.height > 0);
	if (!box) return {Wrong: "it has no size"};
	if (this.disabled) return {Wrong: "it is disabled"};
	const X = box.x + box.width / 2, Y = box.y + box.height / 2;
	const top = document.elementFromPoint(X, Y);
	const own = [...(this.labels || [])];
	if (!top || !(this.contains(top) || top.contains(this) || own.some(l => l.contains(top))))
		return {Wrong: "it is covered by " + (top ? top.outerHTML.slice(0, 120) : "the edge of the window")};
	return {X, Y, Wrong: ""};
}`

// target waits until the element can be touched.
func (p *Page) target(e element) point {
	p.t.Helper()
	var at point
	p.eventually(func() (err error) {
		if at, err = on[point](p, e, middle); err == nil && at.Wrong != "" {
			err = fmt.Errorf("%s cannot be clicked: %s", e, at.Wrong)
		}
		return err
	})
	return at
}

func (p *Page) press(at point) chromedp.Action[chromedp.Void] {
	if p.view.Touch {
		return chromedp.TapXY(at.X, at.Y)
	}
	return chromedp.MouseClickXY(at.X, at.Y)
}

// Fill puts a value into the field with the label, replacing what is there.
// Text is inserted as from a keyboard; a date is given as 2026-03-09, a time
// as 08:30, a choice of a list by the words it shows.
func (p *Page) Fill(label, value string) {
	p.t.Helper()
	e := p.find(fields, label)
	var typed bool
	p.eventually(func() (err error) {
		typed, err = on[bool](p, e, set, value)
		return err
	})
	if typed {
		p.Do("typing into "+e.String(), p.insert(value))
	}
}

// set chooses, or sets, or makes the field ready to be typed into and
// returns true.
const set = `function (value) {
	const tell = () => ["input", "change"].forEach(n => this.dispatchEvent(new Event(n, {bubbles: true})));
	if (this.disabled || this.readOnly) throw new Error("the field cannot be changed");
	this.scrollIntoView({block: "center", behavior: "instant"});
	this.focus();
	if (this.tagName === "SELECT") {
		const words = o => o.text.replace(/\s+/g, " ").trim();
		const option = [...this.options].find(o => words(o) === value);
		if (!option) throw new Error("no choice " + value + " among " + [...this.options].map(words).join(", "));
		this.value = option.value;
		tell();
		return false;
	}
	if (["date", "time", "datetime-local", "month", "week", "range", "color"].includes(this.type)) {
		this.value = value;
		if (this.value === "" && value !== "") throw new Error("the field does not take " + value);
		tell();
		return false;
	}
	if (["checkbox", "radio", "file"].includes(this.type)) throw new Error("use Check or chromedp for this field");
	this.select();
	return true;
}`

// insert types over the selection; nothing typed over it deletes it.
func (p *Page) insert(value string) chromedp.Action[chromedp.Void] {
	if value == "" {
		return chromedp.KeyEvent(kb.Backspace)
	}
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, input.InsertText, input.InsertTextParams{Text: value})
		return err
	})
}

// Check ticks a box or a radio button, or takes the tick from a box, by
// clicking it if it is not as wanted.
func (p *Page) Check(label string, want bool) {
	p.t.Helper()
	e := p.find([]string{"checkbox", "radio", "switch"}, label)
	if p.checked(e) != want {
		p.Do("clicking "+e.String(), p.press(p.target(e)))
	}
	p.eventually(func() error {
		if p.checked(e) != want {
			return errors.New("the tick does not change")
		}
		return nil
	})
}

func (p *Page) checked(e element) bool {
	p.t.Helper()
	is, err := on[bool](p, e, `function () { return "checked" in this ? this.checked : this.getAttribute("aria-checked") === "true"; }`)
	if err != nil {
		p.t.Fatalf("reading %s: %v", e, err)
	}
	return is
}

// Value is what the field with the label holds now.
func (p *Page) Value(label string) string {
	p.t.Helper()
	e := p.find(fields, label)
	value, err := on[string](p, e, `function () { return this.value; }`)
	if err != nil {
		p.t.Fatalf("reading %s: %v", e, err)
	}
	return value
}
