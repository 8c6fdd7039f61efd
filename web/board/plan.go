package board

import (
	"fmt"
	"net/http"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// planPage is a plan while it is looked for, and when it is found.
type planPage struct {
	Planning booking.Planning
	From, To civil.Date
	Week     string
	Now      time.Time
	*schedule.Found
	Ring  []schedule.Call
	Undo  booking.ID      // of the newest acceptance, when it is of this plan
	Stale string          // why nothing was accepted
	With  []schedule.Move // what would have to be accepted together
}

// seconds that a plan may be looked for; the first is usual.
var secondsOptions = []view.Option{{Value: "10", Label: "10 s"}, {Value: "30", Label: "30 s"}, {Value: "60", Label: "1 min"}, {Value: "300", Label: "5 min"}}

const usualSeconds = 10

// planAsk asks for a plan of a week; one that is being looked for already is
// shown instead.
func (b *board) planAsk(c *gin.Context) error {
	first, err := weekOf(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	seconds := usualSeconds
	if form.Typed("seconds") != "" {
		seconds = form.Int("seconds", fault.Optional)
	}
	if err := form.Errors.Err(); err != nil {
		return err
	}
	return b.ask(c, schedule.Order{From: first, Days: daysOfWeek, Seed: 1, Seconds: seconds})
}

// ask stores the wish and shows it.
func (b *board) ask(c *gin.Context, o schedule.Order) error {
	ctx := c.Request.Context()
	open, err := b.Store.Plannings(ctx, booking.PlanningQuery{
		From: o.From, To: o.From.AddDays(o.Days - 1), States: []booking.PlanningState{booking.PlanWaiting, booking.PlanSearching},
	})
	if err != nil {
		return err
	}
	for _, p := range open {
		if p.From == o.From && p.Days == o.Days && p.Mend == o.Mend {
			return view.See(c, planPath(p.ID))
		}
	}
	p, err := b.Planner.Ask(ctx, o)
	if err != nil {
		return err
	}
	return view.See(c, planPath(p.ID))
}

func planPath(id booking.ID) string { return "/board/plans/" + string(id) }

func (b *board) plan(c *gin.Context) error {
	page, err := b.planPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "plan", page)
}

// planProgress is the part of the page that follows the search. When the
// search is over the whole page is loaded.
func (b *board) planProgress(c *gin.Context) error {
	page, err := b.planPage(c)
	if err != nil {
		return err
	}
	if !page.Planning.State.Open() {
		c.Header("HX-Refresh", "true")
	}
	return view.Fragment(c, http.StatusOK, pages, "plan", "progress", page)
}

func (b *board) planPage(c *gin.Context) (page planPage, err error) {
	id, err := view.ID(c, "id")
	if err != nil {
		return page, err
	}
	ctx := c.Request.Context()
	p, err := b.Store.Planning(ctx, id)
	if err != nil {
		return page, err
	}
	page = planPage{Planning: p, From: p.From, To: p.From.AddDays(p.Days - 1), Week: isoWeek(p.From), Now: b.Now()}
	if p.State != booking.PlanFound {
		return page, nil
	}
	if page.Found, err = b.Planner.Read(ctx, p); err != nil {
		return page, err
	}
	page.Ring = page.Plan.Ring()
	last, ok, err := b.Planner.Undoable(ctx)
	if ok && last.Planning == id {
		page.Undo = last.ID
	}
	return page, err
}

// planStop asks for the best so far.
func (b *board) planStop(c *gin.Context) error {
	id, err := view.ID(c, "id")
	if err != nil {
		return err
	}
	if err := b.Store.StopPlanning(c.Request.Context(), id); err != nil {
		return err
	}
	return view.See(c, planPath(id))
}

// planAccept accepts the plan, or the one booking that is named.
func (b *board) planAccept(c *gin.Context) error {
	page, err := b.planPage(c)
	if err != nil {
		return err
	}
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	units, err := unitsOf(form)
	if err != nil {
		return err
	}
	says, err := b.Planner.Accept(c.Request.Context(), page.Planning.ID, units...)
	if fault.Is(err, fault.Conflict) && page.Found != nil {
		page.Stale = fault.Sentence(err)
		if page.With, err = b.Planner.Together(c.Request.Context(), page.Planning.ID, units...); err != nil {
			return err
		}
		return view.Render(c, http.StatusConflict, pages, "plan", page)
	}
	if err != nil {
		return err
	}
	session.Flash(c, sentence(says))
	if len(units) > 0 {
		return view.See(c, planPath(page.Planning.ID))
	}
	return view.See(c, "/week/"+page.Week)
}

// unitsOf are the bookings a form names.
func unitsOf(form *view.Form) ([]booking.ID, error) {
	var units []booking.ID
	for _, text := range form.Texts("booking") {
		id, ok := booking.ParseID(text)
		if !ok {
			return nil, fault.New(fault.Invalid, "The page names a booking that cannot be one; go back and load it again.")
		}
		units = append(units, id)
	}
	return units, nil
}

// sentence closes what was done with a full stop.
func sentence(says string) string { return says + "." }

// Searching tells whether the plan is still to come.
func (p planPage) Searching() bool { return p.Planning.State.Open() }

// quiet is how long nothing has to be heard for the page to say so.
const quiet = 15 * time.Second

// Silent tells whether nobody shows a sign of life.
func (p planPage) Silent() bool { return p.Searching() && p.Now.Sub(p.Planning.Beat) > quiet }

// Elapsed is how long ago the plan was asked for.
func (p planPage) Elapsed() string {
	return fmt.Sprintf("%d s", int(p.Now.Sub(p.Planning.Asked).Seconds()))
}

// Open are the moves that can still be accepted.
func (p planPage) Open() int {
	done, open := p.Done(), 0
	for _, m := range p.Plan.Moves {
		if !done[m.Booking] {
			open++
		}
	}
	return open
}

// IsDone tells whether a move was accepted.
func (p planPage) IsDone(m schedule.Move) bool { return p.Done()[m.Booking] }

// Positive is an amount without its sign.
func (planPage) Positive(minor int64) int64 { return max(minor, -minor) }
