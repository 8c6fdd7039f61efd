package webtest_test

import (
	"fmt"
	"html"
	"image/png"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drawbar/web/webtest"

	"github.com/chromedp/chromedp/kb"
)

const form = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Booking</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<link rel="icon" href="data:,"></head><body><main><h1>Booking</h1>
<form method="post" action="/thanks">
<p><label for="head">Head</label> <input id="head" name="head" inputmode="numeric" value="12"></p>
<p><label>Day <input type="date" name="day"></label></p>
<p><label>Class <select name="class"><option value="e">Ewe</option><option value="r">Ram</option></select></label></p>
<p><label>Notes <textarea name="notes"></textarea></label></p>
<p><label><input type="checkbox" name="lights" value="yes"> There are lights</label></p>
<p><button>Send</button> <button type="button" id="count">Count</button></p>
</form><p>Counted <output id="n">0</output></p>
<script src="/count.js"></script></main></body></html>`

// site answers what was sent, so that a test sees what a server would get.
func site(t *testing.T, policy string, pages map[string]string) string {
	t.Helper()
	mux := http.NewServeMux()
	mux.HandleFunc("/thanks", func(w http.ResponseWriter, r *http.Request) {
		w.WriteHeader(http.StatusCreated)
		fmt.Fprintf(w, `<!doctype html><html lang="en"><title>Thanks</title><link rel="icon" href="data:,"><main><h1>Thanks</h1><p>%s|%s|%s|%s|%s</p></main>`,
			html.EscapeString(r.FormValue("head")), r.FormValue("day"), r.FormValue("class"), html.EscapeString(r.FormValue("notes")), r.FormValue("lights"))
	})
	mux.HandleFunc("/count.js", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/javascript")
		fmt.Fprint(w, `let n = 0; document.getElementById("count").addEventListener("click", () => { document.getElementById("n").textContent = ++n; });`)
	})
	for path, page := range pages {
		mux.HandleFunc(path, func(w http.ResponseWriter, _ *http.Request) {
			w.Header().Set("Content-Type", "text/html; charset=utf-8")
			w.Header().Set("Content-Security-Policy", policy)
			fmt.Fprint(w, page)
		})
	}
	server := httptest.NewServer(mux)
	t.Cleanup(server.Close)
	return server.URL
}

const strict = "default-src 'self'; img-src 'self' data:"

func TestAFormIsFilledAsAPersonWould(t *testing.T) {
	address := site(t, strict, map[string]string{"/book": form})
	b := webtest.Start(t)
	for name, view := range map[string]webtest.View{"desktop": webtest.Desktop, "phone": webtest.Phone} {
		t.Run(name, func(t *testing.T) {
			page := b.Page(view)
			if status := page.Go(address + "/book"); status != http.StatusOK {
				t.Fatalf("status %d", status)
			}
			if width := webtest.Eval[int64](page, "innerWidth"); width != view.Width {
				t.Errorf("the window is %d wide, want %d", width, view.Width)
			}
			if page.Value("Head") != "12" || !page.Has("button", "Send") || page.Has("button", "Withdraw") {
				t.Error("the form is not read as it is")
			}
			page.Fill("Head", "240")
			page.Fill("Day", "2026-03-09")
			page.Fill("Class", "Ram")
			page.Fill("Notes", "Gate <2.4 m & mud")
			page.Check("There are lights", true)
			page.Check("There are lights", true)
			page.Axe()
			if status := page.Follow("button", "Send"); status != http.StatusCreated {
				t.Errorf("status %d", status)
			}
			page.WaitText("240|2026-03-09|r|Gate <2.4 m & mud|yes")
			if !strings.HasSuffix(page.URL(), "/thanks") {
				t.Errorf("ended at %s", page.URL())
			}
		})
	}
}

func TestScriptsRunAndKeysArrive(t *testing.T) {
	address := site(t, strict, map[string]string{"/book": form})
	page := webtest.Start(t).Page(webtest.Desktop)
	page.Go(address + "/book")
	page.Click("button", "Count")
	page.WaitText("Counted 1")
	page.Press(kb.Enter) // the button has the focus
	page.WaitText("Counted 2")
	page.Reload()
	page.WaitGone("Counted 2")
	page.Wait("document.readyState === 'complete'")
	if text := page.Text(); !strings.Contains(text, "Counted 0") {
		t.Errorf("after reloading the page shows %q", text)
	}
}

func TestPagesAreTwoPeople(t *testing.T) {
	address := site(t, strict, map[string]string{"/book": form})
	b := webtest.Start(t)
	one, two := b.Page(webtest.Desktop), b.Page(webtest.Phone)
	one.Go(address + "/book")
	webtest.Eval[string](one, `document.cookie = "who=one"`)
	two.Go(address + "/book")
	if cookie := webtest.Eval[string](two, "document.cookie"); cookie != "" {
		t.Errorf("the second person has the first one's cookie %q", cookie)
	}
}

func TestScreenshotIsAPictureOfTheView(t *testing.T) {
	folder := t.TempDir()
	t.Setenv(webtest.ShotsVariable, folder)
	page := webtest.Start(t).Page(webtest.Desktop)
	page.Go(site(t, strict, map[string]string{"/book": form}) + "/book")
	page.Screenshot("booking")
	file, err := os.Open(filepath.Join(folder, "booking.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if config, err := png.DecodeConfig(file); err != nil || int64(config.Width) != webtest.Desktop.Width {
		t.Errorf("picture %+v, %v", config, err)
	}
}
