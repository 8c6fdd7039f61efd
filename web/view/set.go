package view

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"strings"

	"github.com/gin-gonic/gin"
)

//go:embed templates
var own embed.FS

var base = template.Must(template.New("").Funcs(funcs).ParseFS(own, "templates/layout.html", "templates/form.html", "templates/length.html", "templates/kit.html"))

// Set is the pages of one audience, each with the shared layout.
type Set struct{ pages map[string]*template.Template }

// MustParse reads the pages that match the pattern. A page is named for its
// file without the extension; files that begin with _ are shared by all. It
// panics on a template that cannot be read, so a program that starts has
// none.
func MustParse(fsys fs.FS, pattern string) *Set {
	names, err := fs.Glob(fsys, pattern)
	if err != nil || len(names) == 0 {
		panic(fmt.Sprintf("view: no templates match %s: %v", pattern, err))
	}
	var parts, pages []string
	for _, name := range names {
		if strings.HasPrefix(path.Base(name), "_") {
			parts = append(parts, name)
		} else {
			pages = append(pages, name)
		}
	}
	set := &Set{pages: map[string]*template.Template{}}
	for _, page := range pages {
		t := template.Must(template.Must(base.Clone()).ParseFS(fsys, append(parts, page)...))
		set.pages[strings.TrimSuffix(path.Base(page), path.Ext(page))] = t
	}
	return set
}

// Page is the dot of a template.
type Page struct {
	Frame
	Path string // of the request, for the navigation
	Data any
}

// Render writes a whole page.
func Render(c *gin.Context, status int, set *Set, name string, data any) error {
	return Fragment(c, status, set, name, "layout", data)
}

// Fragment writes one template of a page, for a script that swaps it in.
func Fragment(c *gin.Context, status int, set *Set, name, part string, data any) error {
	t, ok := set.pages[name]
	if !ok {
		return fmt.Errorf("view: no page %q", name)
	}
	frame, err := frameOf(c)
	if err != nil {
		return err
	}
	return write(c, status, t, part, Page{Frame: frame, Path: c.Request.URL.Path, Data: data})
}

// write renders into memory first, so that a page is sent whole or not at all.
func write(c *gin.Context, status int, t *template.Template, part string, page Page) error {
	var body bytes.Buffer
	if err := t.ExecuteTemplate(&body, part, page); err != nil {
		return err
	}
	c.Header("Cache-Control", "no-store")
	c.Data(status, "text/html; charset=utf-8", body.Bytes())
	return nil
}

// See sends the reader to another page after something was done.
func See(c *gin.Context, to string) error {
	c.Redirect(http.StatusSeeOther, to)
	return nil
}
