package signin

import (
	"net/url"
	"strings"
	"testing"
)

func TestNextStaysHere(t *testing.T) {
	for _, next := range []string{"https://evil.example", "//evil.example", `/\evil.example`, "javascript:alert(1)", "", "/\t/evil.example", "/a\r\nX: y", "evil", "///evil.example"} {
		if got := safeNext(next); got != "" {
			t.Errorf("%q leads to %q", next, got)
		}
	}
	for _, next := range []string{"/", "/farms?q=a&sort=name", "/visits/7#work", "/a//b"} {
		if got := safeNext(next); got != next {
			t.Errorf("%q became %q", next, got)
		}
	}
}

// Read as a browser reads it (WHATWG URL: control characters go, a backslash
// is a slash), what is kept never names another host.
func FuzzNextStaysHere(f *testing.F) {
	for _, next := range []string{"/farms", "//x", `/\x`, "/\t/x", "/..//x", "/%2f/x"} {
		f.Add(next)
	}
	f.Fuzz(func(t *testing.T, next string) {
		kept := safeNext(next)
		if kept == "" {
			return
		}
		browser := strings.NewReplacer("\t", "", "\n", "", "\r", "", `\`, "/").Replace(kept)
		u, err := url.Parse(browser)
		if err == nil && (u.Host != "" || u.Scheme != "") || strings.HasPrefix(browser, "//") {
			t.Errorf("%q leads to %q", next, browser)
		}
	})
}
