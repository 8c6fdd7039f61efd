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
	Live    live
	Visit   booking.Visit
	Booking booking.Booking
	Farm    booking.Farm
	Yard    booking.Yard
	Form    *view.Form
	Bring   []string
	Kit     []view.KitLine // none where it cannot be said
	Undo    booking.ID     // the last count of this person, for phones without a script
	Late    int            // events that came after signing
	Routes  []view.Option
	Units   []view.Option
	Classes []view.Option
	Caution string
	Usual   jobs.Hands // as planned
}

// Hands are who came, as far as is known.
func (p visitPage) Hands() jobs.Hands {
	if told := p.State.Docket.Hands; told != nil {
		return *told
	}
	return p.Usual
}

// Planned is the usual crew in words.
func (p visitPage) Planned() string { return handsInWords(p.Usual) }

// Crews are the sizes to choose from.
func (visitPage) Crews() (sizes []int) {
	for n := 1; n <= jobs.MaxHands; n++ {
		sizes = append(sizes, n)
	}
	return sizes
}

func handsInWords(h jobs.Hands) string {
	words := view.Plural(h.People, "person", "people")
	if h.Pusher {
		words += " and somebody to push up"
	}
	return words
}

// NewEvent is an id for the event of a form.
func (visitPage) NewEvent() booking.ID { return booking.NewID() }

// Blank is a mob without a name, for the script to make cards of.
func (p visitPage) Blank() mob {
	blank := mob{Services: []done{}}
	if len(p.State.Mobs) == 0 {
		return blank
	}
	like := p.State.Mobs[0]
	for _, s := range like.Services {
		blank.Services = append(blank.Services, done{Code: s.Code, Name: s.Name})
	}
	for _, g := range like.Gates {
		blank.Gates = append(blank.Gates, through{Gate: g.Gate})
	}
	return blank
}

// card is the form that counts one mob.
type card struct {
	Page visitPage
	Mob  mob
	Open bool
}

// Card of a mob; that of the first one with animals still to come is open.
func (p visitPage) Card(m mob) card {
	for _, other := range p.State.Mobs {
		if other.Worked < other.Booked {
			return card{p, m, other.ID == m.ID}
		}
	}
	return card{p, m, len(p.State.Mobs) > 0 && p.State.Mobs[0].ID == m.ID}
}

// button is a form with nothing to it but a step of the visit.
type button struct {
	Page        visitPage
	Kind, Label string
	Main        bool
}

// Button is a step's form.
func (p visitPage) Button(kind, label string) button {
	return button{Page: p, Kind: kind, Label: label}
}

// Main is the form of the step that comes next.
func (p visitPage) Main(kind, label string) button {
	return button{Page: p, Kind: kind, Label: label, Main: true}
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
	page.Visit = open.Sheet.Visit
	a, err := p.around(ctx, page.Visit)
	if err != nil {
		return page, err
	}
	if page.Undo, err = p.lastCount(c, id); err != nil {
		return page, err
	}
	page.Booking, page.Yard, page.Farm = a.booking, a.yard, a.farm
	page.State, page.Late = stateOf(open, a), len(open.Late)
	page.Live = page.State.live(p.Now(), a.business.Location())
	if page.Kit, _, err = p.kitOf(c, a); err != nil {
		return page, err
	}
	page.Usual = jobs.Hands{People: max(len(a.rig.Crew), 1), Pusher: page.Yard.Helper}
	page.Bring = bring(page.Booking, a.farm, page.Yard, a.rig)
	today := a.business.Today(p.Now())
	page.Form = view.NewForm("given", today, "unit", "mL", "route", jobs.ByMouth, "name", page.Farm.Contact)
	page.setChoices()
	return page, nil
}

func (p *visitPage) setChoices() {
	p.Routes = view.Options(jobs.Routes, func(r jobs.Route) string { return string(r) })
	p.Units = view.Options(jobs.Units, func(u string) string { return u })
	p.Classes = view.Options(booking.Classes, pluralOf)
	p.Caution = jobs.Caution
}

func (p *phone) around(ctx context.Context, v booking.Visit) (a around, err error) {
	var errs [5]error
	a.farm, errs[0] = p.Store.Farm(ctx, v.FarmID)
	a.rig, errs[1] = booking.GoingRig(ctx, p.Store, v.RigID, v.Day)
	a.business, errs[2] = p.Store.Business(ctx)
	a.booking, errs[3] = p.Store.Booking(ctx, v.BookingID)
	a.yard, errs[4] = p.Store.Yard(ctx, v.YardID)
	if err := errors.Join(errs[:]...); err != nil {
		return a, err
	}
	a.estimate = p.Planner.Detail(a.booking, a.farm, a.yard, a.rig).Estimate
	return a, nil
}

func (p *phone) dayNow(ctx context.Context) (civil.Date, error) {
	business, err := p.Store.Business(ctx)
	return business.Today(p.Now()), err
}

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
	a, err := p.around(c.Request.Context(), open.Sheet.Visit)
	if err != nil {
		return err
	}
	c.Header("Cache-Control", "no-store")
	c.JSON(http.StatusOK, stateOf(open, a))
	return nil
}
