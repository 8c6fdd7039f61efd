package phone

import (
	"context"
	"errors"
	"net/http"

	"drawbar/booking"
	"drawbar/jobs"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// visitPage is one visit, as the phone shows it.
type visitPage struct {
	State   state
	Booking booking.Booking
	Farm    booking.Farm
	Yard    booking.Yard
	Rig     booking.Rig
	Today   civil.Date
	Form    *view.Form
	Routes  []view.Option
	Units   []view.Option
	Caution string
}

// state is where a visit has got to, for the page and for the script.
type state struct {
	Visit   booking.ID   `json:"visit"`
	Name    string       `json:"name"`
	Step    string       `json:"step"`
	Mobs    []mob        `json:"mobs"`
	Docket  jobs.Docket  `json:"docket"`
	Known   []booking.ID `json:"known"`   // events that are in the docket
	Head    int          `json:"head"`    // expected on this visit
	Planned int          `json:"planned"` // seconds of work, median
	Signed  booking.ID   `json:"signed,omitempty"`
	Doubts  []string     `json:"doubts"`
}

// mob is one mob with what is counted so far.
type mob struct {
	ID       booking.ID `json:"id"`
	Class    string     `json:"class"`
	Booked   int        `json:"booked"`
	Services []done     `json:"services"`
	Sort     bool       `json:"sort"`
	Worked   int        `json:"worked"`
}

type done struct {
	Code string `json:"code"`
	Name string `json:"name"`
	Head int    `json:"head"`
}

// NewEvent is an id for the event of a form.
func (visitPage) NewEvent() booking.ID { return booking.NewID() }

// button is a form with nothing to it but a step of the visit.
type button struct {
	Page        visitPage
	Kind, Label string
	Main        bool
}

// Button is the step's form; what comes next on a visit stands out.
func (p visitPage) Button(kind, label string) button {
	return button{Page: p, Kind: kind, Label: label, Main: kind != string(jobs.Paused)}
}

// At tells whether the visit is at one of the steps.
func (p visitPage) At(steps ...string) bool {
	for _, s := range steps {
		if p.State.Step == s {
			return true
		}
	}
	return false
}

// stepOf is what comes next on a visit.
func stepOf(d jobs.Docket, signed bool) string {
	switch {
	case signed && !d.Left.IsZero():
		return "gone"
	case signed:
		return "pack"
	case d.Arrived.IsZero() && d.Started.IsZero():
		return "arrive"
	case d.SetUp.IsZero() && d.Started.IsZero():
		return "set up"
	case d.Started.IsZero():
		return "start"
	case d.Running():
		return "work"
	case d.Finished.IsZero():
		return "pause"
	}
	return "sign"
}

func (p *phone) visit(c *gin.Context) error {
	page, err := p.visitPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "visit", page)
}

func (p *phone) visitPage(c *gin.Context) (page visitPage, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	ctx := c.Request.Context()
	open, err := p.Jobs.Docket(ctx, id)
	if err != nil {
		return page, err
	}
	v := open.Sheet.Visit
	var errs [5]error
	page.Booking, errs[0] = p.Store.Booking(ctx, v.BookingID)
	page.Farm, errs[1] = p.Store.Farm(ctx, v.FarmID)
	page.Yard, errs[2] = p.Store.Yard(ctx, v.YardID)
	page.Rig, errs[3] = p.Store.Rig(ctx, v.RigID)
	page.Today, errs[4] = p.dayNow(ctx)
	page.State = stateOf(open, page.Farm.Name)
	page.Form = view.NewForm("given", page.Today, "unit", "mL", "route", jobs.ByMouth, "name", page.Farm.Contact)
	page.Routes = view.Options(jobs.Routes, func(r jobs.Route) string { return string(r) })
	page.Units = view.Options(jobs.Units, func(u string) string { return u })
	page.Caution = jobs.Caution
	return page, errors.Join(errs[:]...)
}

func (p *phone) dayNow(ctx context.Context) (civil.Date, error) {
	business, err := p.Store.Business(ctx)
	return civil.DateOf(p.Now().In(business.Location())), err
}

func stateOf(open jobs.OpenDocket, name string) state {
	v := open.Sheet.Visit
	s := state{
		Visit: v.ID, Name: name, Docket: open.Docket, Known: open.Known, Head: v.Head, Planned: int(v.Work.Seconds()),
		Signed: open.Signed, Step: stepOf(open.Docket, open.Signed != ""), Doubts: jobs.Reconcile(open.Docket, open.Sheet),
	}
	for _, m := range open.Sheet.AllMobs(open.Docket) {
		line := mob{ID: m.ID, Class: pluralOf(m.Class), Booked: m.Head, Worked: open.Docket.MobHead(m.ID)}
		for _, code := range m.Services {
			line.Services = append(line.Services, done{code, open.Sheet.Service(code), open.Docket.Done(m.ID, code)})
			line.Sort = line.Sort || code == "sort"
		}
		s.Mobs = append(s.Mobs, line)
	}
	return s
}

func pluralOf(c booking.Class) string { return string(c) + "s" }

// state is the visit for the phone's script.
func (p *phone) state(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	open, err := p.Jobs.Docket(c.Request.Context(), id)
	if err != nil {
		return err
	}
	farm, err := p.Store.Farm(c.Request.Context(), open.Sheet.Visit.FarmID)
	if err != nil {
		return err
	}
	c.Header("Cache-Control", "no-store")
	c.JSON(http.StatusOK, stateOf(open, farm.Name))
	return nil
}
