package office

import (
	"context"
	"net/http"
	"strconv"
	"strings"

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
	r.GET("/settings/costs", view.Handle(o.costs))
	r.POST("/settings/costs", view.Handle(o.saveCosts))
	r.GET("/settings/people", view.Handle(o.people))
	r.GET("/settings/people/:id", view.Handle(o.person))
	r.POST("/settings/people/:id", view.Handle(o.savePerson))
	r.POST("/settings/people/:id/away", view.Handle(o.saveAway))
	r.POST("/settings/people/:id/back", view.Handle(o.dropAway))
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
	r.GET("/settings/services/:code", view.Handle(o.service))
	r.POST("/settings/services/:code", view.Handle(o.saveService))
}

// settingsPage edits the business.
type settingsPage struct {
	Form  *view.Form
	First bool // nothing is set up yet
}

func (o *office) settings(c *gin.Context) error {
	b, err := o.business(c.Request.Context())
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "settings", settingsPage{formOfBusiness(b), b.Version == 0})
}

// business is the one that is set up, or none yet.
func (o *office) business(ctx context.Context) (booking.Business, error) {
	b, err := o.Store.Business(ctx)
	if fault.Is(err, fault.NotFound) {
		err = nil
	}
	return b, err
}

func formOfBusiness(b booking.Business) *view.Form {
	f := view.NewForm("name", b.Name, "address", b.Address, "email", b.Email, "phone", b.Phone, "tax_id", b.TaxID, "zone", b.Zone,
		"country", b.Country, "currency", b.Currency, "home_name", b.HomeName, "farmers_choose", b.FarmersChoose, "version", b.Version)
	setPosition(f, b.Home)
	return f
}

func setPosition(f *view.Form, at orb.Point) {
	if at != (orb.Point{}) {
		f.Set("lat", strconv.FormatFloat(at.Lat(), 'f', -1, 64))
		f.Set("lon", strconv.FormatFloat(at.Lon(), 'f', -1, 64))
	}
}

func positionOf(f *view.Form) orb.Point {
	lat, lon := f.Float("lat", fault.Required), f.Float("lon", fault.Required)
	return orb.Point{lon, lat}
}

// checkPlaced is what a check found, without the position as a whole where a
// half of it is named already.
func checkPlaced(f *view.Form, found error, field string) error {
	if f.Errors["lat"] == "" && f.Errors["lon"] == "" {
		return found
	}
	fields := fault.FieldsOf(found)
	delete(fields, field)
	return fields.Err()
}

// fill takes what the form says of a business; the rest stays.
func fill(b *booking.Business, f *view.Form) {
	b.Name, b.Address, b.Email, b.Phone, b.TaxID = f.Text("name"), f.Text("address"), f.Text("email"), f.Text("phone"), f.Text("tax_id")
	b.Zone, b.Country, b.Currency = f.Text("zone"), strings.ToUpper(f.Text("country")), strings.ToUpper(f.Text("currency"))
	b.HomeName, b.Home, b.FarmersChoose, b.Version = f.Text("home_name"), positionOf(f), f.Bool("farmers_choose"), f.Version()
}

func (o *office) saveSettings(c *gin.Context) error {
	now, err := o.business(c.Request.Context())
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	b := now
	fill(&b, form)
	err = checkPlaced(form, b.Check(), "home")
	if err == nil && form.OK() {
		err = o.keepBusiness(c.Request.Context(), &b)
	}
	if err := form.Take(err); err != nil {
		return err
	}
	if !form.OK() {
		form.Meet(formOfBusiness(now), nil)
		return view.Render(c, form.Status(), pages, "settings", settingsPage{form, now.Version == 0})
	}
	session.Flash(c, "Saved.")
	if now.Version == 0 {
		session.Flash(c, "Your business is set up. Next: people, a rig, prices, farms.")
	}
	return view.See(c, "/settings")
}

// keepBusiness stores the business. A new one gets the services it starts
// with first, so that one that is set up always has them.
func (o *office) keepBusiness(ctx context.Context, b *booking.Business) error {
	if b.Version == 0 {
		if err := o.stock(ctx); err != nil {
			return err
		}
	}
	return o.Store.SaveBusiness(ctx, b)
}

// stock adds the standard services that are not there yet.
func (o *office) stock(ctx context.Context) error {
	have, err := o.Store.Services(ctx)
	if err != nil {
		return err
	}
	known := booking.ByCode(have)
	for _, s := range booking.StandardServices() {
		if _, there := known[s.Code]; there {
			continue
		}
		if err := o.Store.SaveService(ctx, &s); err != nil {
			return err
		}
	}
	return nil
}
