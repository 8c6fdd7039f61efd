package static

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
)

func get(t *testing.T, name string, headers ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, Path(name), nil)
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	Handler().ServeHTTP(w, r)
	return w.Result()
}

// What goes out packed is the file once unpacked (RFC 9110, 8.4.1.3), and only
// those get it who asked.
func TestPacked(t *testing.T) {
	for name := range packed() {
		plain, err := File(name)
		if err != nil {
			t.Fatal(err)
		}
		a := get(t, name, "Accept-Encoding", "br;q=1.0, gzip;q=0.8")
		if packed()[name] == nil {
			continue
		}
		if a.Header.Get("Content-Encoding") != "gzip" || a.Header.Get("Vary") != "Accept-Encoding" {
			t.Errorf("%s: %v", name, a.Header)
		}
		r, err := gzip.NewReader(a.Body)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, plain) {
			t.Errorf("%s: %d bytes, want %d, %v", name, len(got), len(plain), err)
		}
	}
	for _, headers := range [][]string{{}, {"Accept-Encoding", "br"}, {"Accept-Encoding", "gzip;q=0"}, {"Accept-Encoding", "gzip; q=0.0"}, {"Accept-Encoding", "gzip", "Range", "bytes=0-9"}} {
		a := get(t, "drawbar.css", headers...)
		got, _ := io.ReadAll(a.Body)
		plain, _ := File("drawbar.css")
		if a.Header.Get("Content-Encoding") != "" || !bytes.HasPrefix(plain, got) || len(got) < 10 {
			t.Errorf("%v: %v, %d bytes", headers, a.Header, len(got))
		}
	}
}

// The map library is the largest file; packed it is less than half.
func TestTheMapLibraryIsPacked(t *testing.T) {
	name := "vendor/maplibre-gl.mjs"
	plain, err := File(name)
	if err != nil || len(packed()[name])*2 > len(plain) {
		t.Errorf("%d bytes for %d, %v", len(packed()[name]), len(plain), err)
	}
}
