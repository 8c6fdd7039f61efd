package office

import (
	"math"
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

func (o *office) baseTime(c *gin.Context) error {
	page, err := o.baseTimePage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "time", page)
}

func formOfTime(b booking.BaseTime) *view.Form {
	return view.NewForm("seconds", math.Round(10*b.Seconds)/10, "spread", math.Round(1000*b.CV)/10, "origin", b.Origin, "source", b.Source, "version", b.Version)
}

func (o *office) saveBaseTime(c *gin.Context) error {
	page, err := o.baseTimePage(c)
	if err != nil {
		return err
	}
	now := page.Form
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	b, err := o.baseTimeOf(c, page)
	if err != nil {
		return err
	}
	err = asTyped(page.Form, b.Check())
	if err == nil && page.Form.OK() {
		err = o.Store.SaveBaseTime(c.Request.Context(), &b)
	}
	if err := page.Form.Take(err); err != nil {
		return err
	}
	if !page.Form.OK() {
		page.Form.Meet(now, map[string][]view.Option{"origin": page.Origins})
		return view.Render(c, page.Form.Status(), pages, "time", page)
	}
	session.Flash(c, "Saved. Estimates follow within a minute.")
	return view.See(c, "/settings/times")
}

// baseTimeOf is what was typed, dated today.
func (o *office) baseTimeOf(c *gin.Context, page baseTimePage) (booking.BaseTime, error) {
	business, err := o.business(c.Request.Context())
	if err != nil {
		return booking.BaseTime{}, err
	}
	f, b := page.Form, page.Time
	b.Seconds, b.CV = f.Float("seconds", fault.Required), f.Float("spread", fault.Required)/100
	b.Origin, b.Source, b.Version = pace.Origin(f.Text("origin")), f.Text("source"), f.Version()
	b.Date = business.Today(o.Now()).String()
	return b, nil
}

// asTyped puts what a check found under the fields of the form, and leaves out
// fields that hold no number at all.
func asTyped(f *view.Form, found error) error {
	fields := fault.FieldsOf(found)
	if sentence, ok := fields["cv"]; ok {
		delete(fields, "cv")
		fields["spread"] = sentence
	}
	for name := range f.Errors {
		delete(fields, name)
	}
	return fields.Err()
}

// dropBaseTime goes back to the value everybody starts with.
func (o *office) dropBaseTime(c *gin.Context) error {
	page, err := o.baseTimePage(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	b := page.Time
	b.Version = form.Version()
	if err := o.Store.DropBaseTime(c.Request.Context(), b); err != nil {
		return err
	}
	session.Flash(c, "The value everybody starts with is back. Estimates follow within a minute.")
	return view.See(c, "/settings/times")
}
