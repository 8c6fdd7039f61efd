package office

import (
	"net/http"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/web/roadmap"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

func (o *office) mountFarms(r gin.IRouter) {
	r.GET("/farms", view.Handle(o.farms))
	r.GET("/farms/:id", view.Handle(o.farm))
	r.POST("/farms/:id", view.Handle(o.saveFarm))
	r.GET("/farms/:id/yards/:yard", view.Handle(o.yard))
	r.POST("/farms/:id/yards/:yard", view.Handle(o.saveYard))
}

// farmsPage lists farms.
type farmsPage struct {
	Search string
	Farms  []booking.Farm
}

func (o *office) farms(c *gin.Context) error {
	page := farmsPage{Search: strings.TrimSpace(c.Query("q"))}
	all, err := o.Store.Farms(c.Request.Context())
	if err != nil {
		return err
	}
	for _, f := range all {
		if strings.Contains(strings.ToLower(f.Name+" "+f.Contact+" "+f.Email+" "+f.Phone), strings.ToLower(page.Search)) {
			page.Farms = append(page.Farms, f)
		}
	}
	return view.Render(c, http.StatusOK, pages, "farms", page)
}

// farmPage is one farm with its yards and what was and will be done there.
type farmPage struct {
	Farm     booking.Farm // as stored; zero for a new one
	Form     *view.Form
	Hygiene  []view.Option
	Yards    []booking.Yard
	Bookings []booking.Booking
	Visits   []booking.Visit
	Pace     *pace.FarmPace // nil where no signed docket says anything
	atlas    *roadmap.Atlas
}

// Problem says why drives to a yard are only estimated, "" when they are not or
// when no roads are imported.
func (p farmPage) Problem(y booking.Yard) string {
	site, _ := p.atlas.Reached(y.At)
	return site.Problem
}

// ID in the address: "new" for a new farm.
func (p farmPage) ID() string {
	if p.Farm.ID == "" {
		return "new"
	}
	return string(p.Farm.ID)
}

const visitsShown = 30

func (o *office) farmPage(c *gin.Context) (page farmPage, err error) {
	for _, h := range booking.HygieneClasses {
		page.Hygiene = append(page.Hygiene, view.Option{Value: string(rune('0' + h)), Label: h.String()})
	}
	page.Farm, page.atlas = booking.Farm{Hygiene: booking.Unknown}, o.Atlas
	if c.Param("id") != "new" {
		if err := o.fillFarm(c, &page); err != nil {
			return page, err
		}
	}
	page.Form = formOfFarm(page.Farm)
	return page, nil
}

func formOfFarm(f booking.Farm) *view.Form {
	return view.NewForm("name", f.Name, "contact", f.Contact, "email", f.Email, "phone", f.Phone, "address", f.Address, "tax_id", f.TaxID,
		"hygiene", int(f.Hygiene), "notes", f.Notes, "version", f.Version)
}

func (o *office) fillFarm(c *gin.Context, page *farmPage) error {
	ctx := c.Request.Context()
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	if page.Farm, err = o.Store.Farm(ctx, id); err != nil {
		return err
	}
	if known, ok := o.Pace.Model().Farm(string(id)); ok {
		page.Pace = &known
	}
	if page.Yards, err = o.Store.Yards(ctx, id); err != nil {
		return err
	}
	open := []booking.State{booking.Asked, booking.Offered, booking.Agreed}
	if page.Bookings, err = o.Store.Bookings(ctx, booking.BookingQuery{FarmID: id, States: open}); err != nil {
		return err
	}
	visits, err := o.Store.Visits(ctx, booking.VisitQuery{FarmID: id, States: []booking.VisitState{booking.SignedOff}})
	for i := len(visits) - 1; i >= 0 && len(page.Visits) < visitsShown; i-- {
		page.Visits = append(page.Visits, visits[i])
	}
	return err
}

func (o *office) farm(c *gin.Context) error {
	page, err := o.farmPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "farm", page)
}

func (o *office) saveFarm(c *gin.Context) error {
	page, err := o.farmPage(c)
	if err != nil {
		return err
	}
	if page.Form, err = view.ReadForm(c); err != nil {
		return err
	}
	f := page.Form
	farm := booking.Farm{
		ID: page.Farm.ID, Name: f.Text("name"), Contact: f.Text("contact"), Email: f.Text("email"), Phone: f.Text("phone"), Address: f.Text("address"),
		TaxID: f.Text("tax_id"), Hygiene: booking.Hygiene(f.Int("hygiene", fault.Required)), Notes: f.Text("notes"), Version: f.Version(),
	}
	err = farm.Check()
	if err == nil && f.OK() {
		err = o.Store.SaveFarm(c.Request.Context(), &farm)
	}
	if err := f.Take(err); err != nil {
		return err
	}
	if !f.OK() {
		f.Meet(formOfFarm(page.Farm), map[string][]view.Option{"hygiene": page.Hygiene})
		return view.Render(c, f.Status(), pages, "farm", page)
	}
	session.Flash(c, "Saved "+farm.Name+".")
	return view.See(c, "/farms/"+string(farm.ID))
}
