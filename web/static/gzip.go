package static

import (
	"bytes"
	"compress/gzip"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
)

// packed are the texts among the files, compressed once, the first time that
// somebody asks. The map library alone goes from about 1 MB to a third.
var packed = sync.OnceValue(func() map[string][]byte {
	all := map[string][]byte{}
	_ = fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if _, known := types[path.Ext(name)]; err != nil || entry.IsDir() || !known || path.Ext(name) == ".woff2" {
			return err
		}
		data, err := files.ReadFile(name)
		if err == nil {
			all[name] = pack(data)
		}
		return err
	})
	return all
})

// pack is nil where packing saves nothing.
func pack(data []byte) []byte {
	var b bytes.Buffer
	w, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	_, _ = w.Write(data)
	_ = w.Close()
	if b.Len() >= len(data) {
		return nil
	}
	return b.Bytes()
}

// takesGzip tells whether the browser unpacks (RFC 9110, 12.5.3).
func takesGzip(r *http.Request) bool {
	for _, each := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		coding, weight, _ := strings.Cut(strings.TrimSpace(each), ";")
		q, weighed := strings.CutPrefix(strings.TrimSpace(weight), "q=")
		value, err := strconv.ParseFloat(q, 64)
		if refused := weighed && err == nil && value == 0; (coding == "gzip" || coding == "*") && !refused {
			return true
		}
	}
	return false
}
