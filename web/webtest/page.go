package webtest

import (
	"context"
	"net/url"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// patience is how long one step may take. It is long because several tests
// and builds may share two slow cores; nothing waits for it to pass.
const patience = 90 * time.Second

// Page is one tab with cookies and storage of its own, so that two pages of
// one browser are two people.
type Page struct {
	t     testing.TB
	ctx   context.Context
	view  View
	watch *watch
}

// Page opens an empty tab of the given size. When the test ends it reports
// what the watch has seen.
func (b *Browser) Page(view View) *Page {
	b.t.Helper()
	w := &watch{}
	ctx, cancel := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(w.see))
	p := &Page{t: b.t, ctx: ctx, view: view, watch: w}
	b.t.Cleanup(func() {
		defer cancel()
		for _, wrong := range w.wrongs() {
			b.t.Errorf("in the browser: %s", wrong)
		}
	})
	if err := chromedp.Do(ctx); err != nil {
		b.t.Fatalf("opening a tab: %v", err)
	}
	p.resize()
	return p
}

func (p *Page) resize() {
	options := []chromedp.EmulateViewportOption{}
	if p.view.Touch {
		options = append(options, chromedp.EmulateScale(2), chromedp.EmulatePortrait, chromedp.EmulateMobile, chromedp.EmulateTouch)
	}
	p.Do("setting the size", chromedp.EmulateViewport(p.view.Width, p.view.Height, options...))
}

// Go opens an address, waits until it is loaded and returns the status. The
// server of the first address is the only one the page may ever ask.
func (p *Page) Go(address string) int {
	p.t.Helper()
	if at, err := url.Parse(address); err == nil {
		p.watch.allow(at.Host)
	}
	response := Run(p, "opening "+address, chromedp.NavigateResponse(address))
	if response == nil {
		p.t.Fatalf("opening %s: no answer", address)
	}
	return int(response.Status)
}

// Reload loads the page again.
func (p *Page) Reload() {
	p.t.Helper()
	p.Do("reloading", chromedp.Reload())
}

// URL is the address the page shows now.
func (p *Page) URL() string {
	p.t.Helper()
	return Run(p, "reading the address", chromedp.Location())
}

// Context is for steps of package chromedp that have no helper here.
func (p *Page) Context() context.Context { return p.ctx }

// Do takes steps of package chromedp; what says in the failure what they were for.
func (p *Page) Do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	Run(p, what, chromedp.Steps(steps...))
}

// Run takes one step of package chromedp and gives its result.
func Run[T any](p *Page, what string, step chromedp.Action[T]) T {
	p.t.Helper()
	result, err := try(p, step)
	if err != nil {
		p.t.Fatalf("%s: %v", what, err)
	}
	return result
}

// Eval gives the value of a JavaScript expression in the page, awaiting a promise.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	return Run(p, "evaluating "+expression, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

func try[T any](p *Page, step chromedp.Action[T]) (T, error) {
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	return chromedp.Run(ctx, step)
}
