package webtest_test

import (
	"strings"
	"testing"

	"drawbar/web/webtest"
)

const themed = `<!doctype html><html lang="en"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Themes</title>
<style>:root{color-scheme:light dark}@media(prefers-color-scheme:dark){p{margin-top:7px}}#wide{width:WIDTH}</style><main><h1>Themes</h1><p>Text</p><div id="wide">x</div></main>`

func TestThemesAndWidths(t *testing.T) {
	address := site(t, "", map[string]string{"/": strings.Replace(themed, "WIDTH", "100%", 1)})
	page := webtest.Start(t).Page(webtest.Phone)
	page.Go(address)
	margin := `getComputedStyle(document.querySelector("p")).marginTop === "7px"`
	for _, dark := range []bool{true, false} {
		page.Dark(dark)
		if got := webtest.Eval[bool](page, margin); got != dark {
			t.Errorf("dark %v is shown as %v", dark, got)
		}
	}
	page.InBothThemes("themes")
}

func TestAPageThatIsTooWideIsNoticed(t *testing.T) {
	said := watched(t, func(page *webtest.Page) {
		page.Go(site(t, "", map[string]string{"/": strings.Replace(themed, "WIDTH", "2000px", 1)}))
		page.Fits()
	})
	if !strings.Contains(said, "pixels wide in a window of") {
		t.Errorf("said %q", said)
	}
}
