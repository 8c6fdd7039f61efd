package webtest

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/chromedp/chromedp"
)

// again is the pause between two looks at the page.
const again = 40 * time.Millisecond

// eventually looks until there is nothing wrong, or fails with the last
// thing that was. A page that is just being replaced is looked at again.
func (p *Page) eventually(look func() error) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	ticker := time.NewTicker(again)
	defer ticker.Stop()
	for {
		err := look()
		if err == nil {
			return
		}
		select {
		case <-ctx.Done():
			p.t.Fatalf("waited %v at %s: %v", patience, p.where(), err)
		case <-ticker.C:
		}
	}
}

func (p *Page) where() string {
	address, err := try(p, chromedp.Location())
	if err != nil {
		return "an unknown address"
	}
	return address
}

// shown is the text a reader sees, with runs of space made one.
const shown = `document.body ? document.body.innerText.replace(/\s+/g, " ").trim() : ""`

// Text is what a reader sees of the page.
func (p *Page) Text() string {
	p.t.Helper()
	return Eval[string](p, shown)
}

// WaitText waits until the page shows the words.
func (p *Page) WaitText(words string) {
	p.t.Helper()
	p.waitText(words, true)
}

// WaitGone waits until the page no longer shows the words.
func (p *Page) WaitGone(words string) {
	p.t.Helper()
	p.waitText(words, false)
}

func (p *Page) waitText(words string, want bool) {
	p.t.Helper()
	p.eventually(func() error {
		text, err := try(p, chromedp.Evaluate[string](shown))
		switch {
		case err != nil:
			return err
		case strings.Contains(text, words) == want:
			return nil
		case want:
			return fmt.Errorf("the page does not show %q but: %s", words, text)
		}
		return fmt.Errorf("the page still shows %q", words)
	})
}

// Wait waits until a JavaScript expression is true.
func (p *Page) Wait(expression string) {
	p.t.Helper()
	p.eventually(func() error {
		ok, err := try(p, chromedp.Evaluate[bool]("!!("+expression+")"))
		if err == nil && !ok {
			err = fmt.Errorf("it is not true that %s", expression)
		}
		return err
	})
}

// Has tells whether there is, now, exactly one element of the role and name.
func (p *Page) Has(role, name string) bool {
	p.t.Helper()
	all, err := p.elements()
	if err != nil {
		p.t.Fatal(err)
	}
	_, err = pick(all, []string{role}, name)
	return err == nil
}
