package webtest_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"drawbar/web/webtest"
)

// witness stands in for a test and keeps what would have failed it.
type witness struct {
	testing.TB
	said     []string
	cleanups []func()
}

func (w *witness) Helper()          {}
func (w *witness) Cleanup(f func()) { w.cleanups = append(w.cleanups, f) }
func (w *witness) Errorf(format string, args ...any) {
	w.said = append(w.said, fmt.Sprintf(format, args...))
}
func (w *witness) Fatal(args ...any) {
	w.said = append(w.said, fmt.Sprint(args...))
	runtime.Goexit()
}
func (w *witness) Fatalf(format string, args ...any) {
	w.Errorf(format, args...)
	runtime.Goexit()
}

// watched runs a story as a test of its own and gives what failed it.
func watched(t *testing.T, story func(page *webtest.Page)) string {
	w := &witness{TB: t}
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() {
			for i := len(w.cleanups) - 1; i >= 0; i-- {
				w.cleanups[i]()
			}
		}()
		story(webtest.Start(w).Page(webtest.Desktop))
	}()
	<-done
	return strings.Join(w.said, "\n")
}

const head = `<!doctype html><html lang="en"><head><title>A page</title><link rel="icon" href="data:,"></head><body><main><h1>A page</h1>`

func TestWhatGoesWrongInThePageFailsTheTest(t *testing.T) {
	cases := []struct{ name, path, body, says string }{
		{"a broken script", "/a", `<script>undefinedThing()</script>`, "undefinedThing is not defined"},
		{"a console error", "/b", `<script>console.error("count", 3)</script>`, "console error: count 3"},
		{"a missing file", "/c", `<img alt="" src="/none.png">`, "404"},
		{"another server", "/d", `<img alt="" src="http://127.0.0.1:1/x.png">`, "request to another server: http://127.0.0.1:1/x.png"},
		{"a bad page for readers", "/e", `<p><input type="text" name="head"></p>`, "label"},
	}
	pages := map[string]string{}
	for _, c := range cases {
		pages[c.path] = head + c.body + "</main></body></html>"
	}
	address := site(t, "default-src * 'unsafe-inline' data:", pages)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			said := watched(t, func(page *webtest.Page) {
				page.Go(address + c.path)
				page.Axe()
			})
			if !strings.Contains(said, c.says) {
				t.Errorf("said %q, want %q in it", said, c.says)
			}
		})
	}
}

func TestABreachOfThePolicyFailsTheTest(t *testing.T) {
	address := site(t, strict, map[string]string{"/a": head + `<p style="color: red">Red</p></main></body></html>`})
	said := watched(t, func(page *webtest.Page) { page.Go(address + "/a") })
	if !strings.Contains(said, "Content Security Policy") {
		t.Errorf("said %q", said)
	}
}

func TestWhatIsExpectedPasses(t *testing.T) {
	address := site(t, strict, map[string]string{"/a": head + `<img alt="" src="/none.png"></main></body></html>`})
	said := watched(t, func(page *webtest.Page) {
		page.Expect("none.png")
		page.Go(address + "/a")
	})
	if said != "" {
		t.Errorf("said %q", said)
	}
}
