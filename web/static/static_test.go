package static

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"
)

func fetch(path string) *http.Response {
	w := httptest.NewRecorder()
	Handler().ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w.Result()
}

func TestFilesOfThisVersionAreKeptByBrowsers(t *testing.T) {
	for name, kind := range map[string]string{
		"drawbar.css":        "text/css; charset=utf-8",
		"drawbar.js":         "text/javascript; charset=utf-8",
		"favicon.svg":        "image/svg+xml",
		"vendor/htmx.min.js": "text/javascript; charset=utf-8",
	} {
		r := fetch(Path(name))
		if r.StatusCode != http.StatusOK || r.Header.Get("Content-Type") != kind {
			t.Errorf("%s: %s, %s", name, r.Status, r.Header.Get("Content-Type"))
		}
		if got := r.Header.Get("Cache-Control"); !strings.Contains(got, "immutable") { // RFC 8246
			t.Errorf("%s: %q", name, got)
		}
	}
}

func TestFilesOfAnotherVersionAreNotKept(t *testing.T) {
	r := fetch(Prefix + "0123456789abcdef/drawbar.css")
	if r.StatusCode != http.StatusOK || r.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("%s, %q", r.Status, r.Header.Get("Cache-Control"))
	}
}

func TestOnlyFilesForPagesAreServed(t *testing.T) {
	for _, path := range []string{
		Prefix, Prefix + version, Prefix + version + "/", Path(""), Path("vendor"), Path("vendor/"), Path("static.go"),
		Path("vendor/package.json"), Path("vendor/README.md"), Path("../static/drawbar.css"), Path("nothing.css"),
		Path("drawbar.css/"), Path("vendor//htmx.min.js"),
	} {
		if r := fetch(path); r.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %s", path, r.Status)
		}
	}
}

func TestEveryChangeIsAnotherVersion(t *testing.T) {
	seen := map[string]string{}
	for name, files := range map[string]fstest.MapFS{
		"as it was":       {"a.css": {Data: []byte("x")}, "b.js": {Data: []byte("y")}},
		"changed":         {"a.css": {Data: []byte("x2")}, "b.js": {Data: []byte("y")}},
		"renamed":         {"a.css": {Data: []byte("x")}, "c.js": {Data: []byte("y")}},
		"moved a letter":  {"a.css": {Data: []byte("xb")}, ".js": {Data: []byte("y")}},
		"content swapped": {"a.css": {Data: []byte("y")}, "b.js": {Data: []byte("x")}},
		"one less":        {"a.css": {Data: []byte("x")}},
	} {
		hash := hashOf(files)
		if other, same := seen[hash]; same {
			t.Errorf("%q and %q are one version", name, other)
		}
		seen[hash] = name
	}
}

func Example() {
	path := Path("drawbar.css")
	fmt.Println(strings.HasPrefix(path, "/static/"), strings.HasSuffix(path, "/drawbar.css"))
	// Output: true true
}
