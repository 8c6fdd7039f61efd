package static

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"time"
)

//go:embed *.css *.js *.svg vendor
var files embed.FS

// Prefix is where the handler has to be mounted.
const Prefix = "/static/"

// types are the kinds of file that are served.
var types = map[string]string{
	".css":   "text/css; charset=utf-8",
	".js":    "text/javascript; charset=utf-8",
	".mjs":   "text/javascript; charset=utf-8",
	".svg":   "image/svg+xml",
	".woff2": "font/woff2",
}

var version = hashOf(files)

// hashOf covers names and contents, so that a renamed file counts as well.
func hashOf(fsys fs.FS) string {
	sum := sha256.New()
	_ = fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, name)
		fmt.Fprintf(sum, "%s\x00%d\x00%s", name, len(data), data)
		return err
	})
	return hex.EncodeToString(sum.Sum(nil))[:16]
}

// Path is the address of a file, such as Path("drawbar.css").
func Path(name string) string { return Prefix + version + "/" + name }

// File is the content of a file, for handlers that serve it elsewhere.
func File(name string) ([]byte, error) { return files.ReadFile(name) }

// Handler serves the files below Prefix. An address with another hash, from
// a page of another version, gets the present file, which is not kept.
func Handler() http.Handler {
	return http.StripPrefix(Prefix, http.HandlerFunc(serve))
}

func serve(w http.ResponseWriter, r *http.Request) {
	hash, name, _ := strings.Cut(r.URL.Path, "/")
	kind, known := types[path.Ext(name)]
	data, err := files.ReadFile(name)
	if !known || err != nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-store")
	if hash == version {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	w.Header().Set("Vary", "Accept-Encoding")
	if packed := packed()[name]; packed != nil && r.Header.Get("Range") == "" && takesGzip(r) {
		w.Header().Set("Content-Encoding", "gzip")
		data = packed
	}
	http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
}
