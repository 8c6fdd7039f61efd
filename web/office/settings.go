package office

import (
	"context"
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
	"github.com/paulmach/orb"
)

// mountOwner adds what only the owner may change.
func (o *office) mountOwner(r gin.IRouter) {
	r.GET("/settings", view.Handle(o.settings))
	r.POST("/settings", view.Handle(o.saveSettings))
	r.GET("/settings/people", view.Handle(o.people))
	r.GET("/settings/people/:id", view.Handle(o.person))
	r.POST("/settings/people/:id", view.Handle(o.savePerson))
	r.POST("/settings/people/:id/link", view.Handle(o.mailLink))
}

// mountRigs adds what the office may change as well.
func (o *office) mountRigs(r gin.IRouter) {
	r.GET("/settings/rigs", view.Handle(o.rigs))
	r.GET("/settings/rigs/:id", view.Handle(o.rig))
	r.POST("/settings/rigs/:id", view.Handle(o.saveRig))
	r.POST("/settings/rigs/:id/off", view.Handle(o.saveDayOff))
	r.POST("/settings/rigs/:id/out", view.Handle(o.dropDayOff))
	r.GET("/settings/services", view.Handle(o.services))
	r.POST("/settings/services/:code", view.Handle(o.saveService))
}

// settingsPage edits the business.
type settingsPage struct {
	Form  *view.Form
	First bool // nothing is set up yet
}

func (o *office) settings(c *gin.Context) error {
	b, err := o.Store.Business(c.Request.Context())
	if err != nil && !fault.Is(err, fault.NotFound) {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "settings", settingsPage{formOfBusiness(b), b.Version == 0})
}

func formOfBusiness(b booking.Business) *view.Form {
	f := view.NewForm("name", b.Name, "address", b.Address, "email", b.Email, "phone", b.Phone, "tax_id", b.TaxID, "zone", b.Zone,
		"country", b.Country, "currency", b.Currency, "home_name", b.HomeName, "version", b.Version)
	setPosition(f, b.Home)
	return f
}

func setPosition(f *view.Form, at orb.Point) {
	if at != (orb.Point{}) {
		f.Set("lat", at.Lat())
		f.Set("lon", at.Lon())
	}
}

func positionOf(f *view.Form) orb.Point {
	return orb.Point{f.Float("lon", fault.Required), f.Float("lat", fault.Required)}
}

func businessOf(f *view.Form) booking.Business {
	return booking.Business{
		Name: f.Text("name"), Address: f.Text("address"), Email: f.Text("email"), Phone: f.Text("phone"), TaxID: f.Text("tax_id"),
		Zone: f.Text("zone"), Country: f.Text("country"), Currency: f.Text("currency"), HomeName: f.Text("home_name"),
		Home: positionOf(f), Version: f.Version(),
	}
}

func (o *office) saveSettings(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	b := businessOf(form)
	first := b.Version == 0
	if err := form.Take(b.Check()); err != nil {
		return err
	}
	if form.OK() {
		if err := form.Take(o.Store.SaveBusiness(c.Request.Context(), &b)); err != nil {
			return err
		}
	}
	if !form.OK() {
		return view.Render(c, form.Status(), pages, "settings", settingsPage{form, first})
	}
	if first {
		if err := o.stock(c.Request.Context()); err != nil {
			return err
		}
		session.Flash(c, "Your business is set up. Next: people, a rig, prices, farms.")
		return view.See(c, "/settings")
	}
	session.Flash(c, "Saved.")
	return view.See(c, "/settings")
}

// stock gives a new business the services it starts with.
func (o *office) stock(ctx context.Context) error {
	have, err := o.Store.Services(ctx)
	if err != nil || len(have) > 0 {
		return err
	}
	for _, s := range booking.StandardServices() {
		if err := o.Store.SaveService(ctx, &s); err != nil {
			return err
		}
	}
	return nil
}
