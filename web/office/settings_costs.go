package office

import (
	"net/http"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// costsPage edits what rounds cost to run.
type costsPage struct {
	Form     *view.Form
	Currency billing.Currency
	Usual    bool // nobody has said yet
}

func newCostsPage(b booking.Business) costsPage {
	return costsPage{Form: formOfCosts(b), Currency: billing.Currency(b.Currency), Usual: b.Running == (booking.Running{})}
}

func (o *office) costs(c *gin.Context) error {
	b, err := o.Store.Business(c.Request.Context())
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "costs", newCostsPage(b))
}

func formOfCosts(b booking.Business) *view.Form {
	plain := func(minor int64) string { return billing.Currency(b.Currency).Of(minor).Plain() }
	r := b.Costs()
	return view.NewForm("hour", plain(r.Hour), "overtime", plain(r.Overtime), "km", plain(r.Km), "solo_km", plain(r.SoloKm),
		"turn_out", plain(r.TurnOut), "lodging", plain(r.Lodging), "version", b.Version)
}

func (p *costsPage) read() booking.Running {
	return booking.Running{
		Hour: p.amount("hour"), Overtime: p.amount("overtime"), Km: p.amount("km"), SoloKm: p.amount("solo_km"),
		TurnOut: p.amount("turn_out"), Lodging: p.amount("lodging"),
	}
}

// amount is in minor units.
func (p *costsPage) amount(name string) int64 { return amountOf(p.Form, name, p.Currency).Minor }

func (o *office) saveCosts(c *gin.Context) error {
	ctx := c.Request.Context()
	b, err := o.Store.Business(ctx)
	if err != nil {
		return err
	}
	page := newCostsPage(b)
	now := page.Form
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	b.Running, b.Version = page.read(), page.Form.Version()
	if page.Form.OK() {
		err = b.Running.Check()
		if err == nil {
			err = o.Store.SaveBusiness(ctx, &b)
		}
		if err := page.Form.Take(err); err != nil {
			return err
		}
	}
	if !page.Form.OK() {
		page.Form.Meet(now, nil)
		return view.Render(c, page.Form.Status(), pages, "costs", page)
	}
	session.Flash(c, "Saved. The next plan reckons with it.")
	return view.See(c, "/settings/costs")
}
