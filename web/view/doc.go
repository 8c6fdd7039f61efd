// Package view turns what a handler found into a page, and what a person
// typed into values.
//
// A handler is a func(*gin.Context) error wrapped by Handle: it renders a
// page or returns an error, and Fail is the one place that makes pages (or,
// for programs, problem documents after RFC 9457) out of errors. Internal
// details are logged with an id and never shown.
//
// An audience package embeds its templates and parses them once:
//
//	//go:embed templates/*.html
//	var files embed.FS
//	var pages = view.MustParse(files, "templates/*.html")
//
//	func farms(c *gin.Context) error {
//		return view.Render(c, http.StatusOK, pages, "farms", data)
//	}
//
// A template file defines "title" and "main", and may define "class" (of the
// body) and "head". Its dot is a Page: .Data is what the handler gave, $.Clock
// and $.When show instants in the business's zone, $.Money amounts in its
// currency. Files whose names begin with _ hold parts shared by the others.
//
// A Form keeps what was typed next to what is wrong with it, so a refused
// page shows both:
//
//	form, err := view.ReadForm(c)
//	if err != nil {
//		return err
//	}
//	farm.Name = form.Text("name")
//	if form.OK() {
//		err = store.SaveFarm(ctx, &farm)
//	}
//	if err := form.Take(err); err != nil {
//		return err // not about the entries
//	}
//	if !form.OK() {
//		return view.Render(c, form.Status(), pages, "farm", data)
//	}
//
// with {{template "errors" .Data.Form}} above and
// {{template "field" (field .Data.Form "name" "Name of the farm" "required")}}
// for each entry. Templates carry no inline style or script: the content
// security policy refuses them.
package view
