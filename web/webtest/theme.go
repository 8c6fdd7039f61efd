package webtest

import (
	"context"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// Dark shows pages as to somebody who likes them dark, or light again.
func (p *Page) Dark(dark bool) {
	p.t.Helper()
	scheme := map[bool]string{true: "dark", false: "light"}[dark]
	media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}}
	p.Do("choosing a "+scheme+" theme", chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, media)
		return err
	}))
}

// Fits fails the test when the page is wider than the window, so that a
// reader would have to push it sideways.
func (p *Page) Fits() {
	p.t.Helper()
	if wide := Eval[int](p, "document.documentElement.scrollWidth"); int64(wide) > p.view.Width {
		p.t.Errorf("%s is %d pixels wide in a window of %d", p.where(), wide, p.view.Width)
	}
}

// InBothThemes looks at the page as it is in either theme: nothing is wrong
// for assistive technology, nothing has to be pushed sideways, and pictures
// are taken under the name.
func (p *Page) InBothThemes(name string) {
	p.t.Helper()
	for _, dark := range []bool{true, false} {
		p.Dark(dark)
		p.Axe()
		p.Fits()
		if dark {
			p.Screenshot(name + "-dark")
		} else {
			p.Screenshot(name)
		}
	}
}
