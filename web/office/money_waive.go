package office

import (
	"net/http"

	"drawbar/billing"
	"drawbar/jobs"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// waiveForm asks why a docket is not billed.
type waiveForm struct {
	Docket jobs.SignedDocket
	Form   *view.Form
}

// Month whose run held the docket back.
func (f waiveForm) Month() billing.Month { return billing.MonthOf(f.Docket.Day) }

func (o *office) waivePage(c *gin.Context) error {
	page, err := o.waiveForm(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "waive", page)
}

func (o *office) waiveForm(c *gin.Context) (page waiveForm, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	page.Form = view.NewForm()
	page.Docket, err = o.Biller.Dockets.SignedDocket(c.Request.Context(), id)
	return page, err
}

// waive notes that a docket will not be billed.
func (o *office) waive(c *gin.Context) error {
	page, err := o.waiveForm(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	err = o.Biller.Store.Waive(c.Request.Context(), page.Docket.ID, page.Form.Text("reason"))
	if err := page.Form.Take(err); err != nil {
		return err
	}
	if !page.Form.OK() {
		return view.Render(c, page.Form.Status(), pages, "waive", page)
	}
	session.Flash(c, "The docket is waived.")
	return view.See(c, "/money/month/"+page.Month().String())
}
