package board

import (
	"context"
	"net/http"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

const daysOfWeek = 7

// weekPage is what the board shows.
type weekPage struct {
	*schedule.Week
	Name           string // ISO week
	Previous, Next string
	This           bool
	Past           bool
	Hours          []hour
	Drawn          []dayPage
	Waiting        []waiting
	Plan           *newPlan // while it waits for somebody
	Chart          chart
}

type dayPage struct {
	schedule.Day
	Strips []strip
	Today  bool
	Over   bool
}

func (b *board) thisWeek(c *gin.Context) error {
	business, err := b.Store.Business(c.Request.Context())
	if err != nil {
		return err
	}
	today := business.Today(b.Now())
	return view.See(c, "/week/"+isoWeek(today))
}

func (b *board) week(c *gin.Context) error {
	page, err := b.weekPage(c)
	if err != nil {
		return err
	}
	if page.Chart, err = b.chart(c.Request.Context(), page.Week, civil.Date{}, 300, 300); err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "week", page)
}

// runSheets is the week to print: a sheet for each rig and day.
func (b *board) runSheets(c *gin.Context) error {
	page, err := b.weekPage(c)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "run_sheets", page)
}

func (b *board) weekPage(c *gin.Context) (weekPage, error) {
	first, err := weekOf(c)
	if err != nil {
		return weekPage{}, err
	}
	week, err := b.Planner.Week(c.Request.Context(), first, daysOfWeek)
	if err != nil {
		return weekPage{}, err
	}
	page := newWeekPage(week)
	if page.Waiting, err = b.waiting(c.Request.Context(), week.Tray); err != nil {
		return page, err
	}
	page.Plan, err = b.newestPlan(c, week)
	return page, err
}

// waiting is a booking of the tray with how long it would take.
type waiting struct {
	schedule.Waiting
	Length *view.Length // nil where that cannot be said
}

func (b *board) waiting(ctx context.Context, tray []schedule.Waiting) ([]waiting, error) {
	details, err := b.Planner.Details(ctx, tray...)
	if err != nil {
		return nil, err
	}
	all := make([]waiting, len(tray))
	for i, w := range tray {
		all[i].Waiting = w
		if details[i].Problem == "" {
			length := view.NewLength(details[i].Estimate)
			all[i].Length = &length
		}
	}
	return all, nil
}

// newPlan is the newest plan of a week.
type newPlan struct {
	ID        booking.ID
	Searching bool
	Idle      bool // it would change nothing
}

// newestPlan is one that is looked for or was not looked at: one of which
// something was accepted, or that failed, is over.
func (b *board) newestPlan(c *gin.Context, week *schedule.Week) (*newPlan, error) {
	ctx := c.Request.Context()
	all, err := b.Store.Plannings(ctx, booking.PlanningQuery{From: week.From, To: week.To, Limit: 1})
	if err != nil || len(all) == 0 || all[0].State == booking.PlanFailed || b.Now().Sub(all[0].Asked) > freshPlan {
		return nil, err
	}
	if all[0].State.Open() {
		return &newPlan{ID: all[0].ID, Searching: true}, nil
	}
	found, err := b.Planner.Read(ctx, all[0])
	if err != nil || len(found.Accepted) > 0 {
		return nil, err
	}
	idle := len(found.Plan.Moves) == 0
	if idle && !spans(found.Plan, week) {
		return nil, nil
	}
	return &newPlan{ID: all[0].ID, Idle: idle}, nil
}

// spans tells whether a plan is for all that is left of a week.
func spans(plan *schedule.Proposal, week *schedule.Week) bool {
	return !plan.To.Before(week.To) && (!plan.From.After(week.From) || !plan.From.After(week.Today))
}

// freshPlan is how long a plan is worth mentioning on the board.
const freshPlan = 12 * time.Hour

// Seconds are how long a plan may be looked for.
func (weekPage) Seconds() []view.Option { return secondsOptions }

func newWeekPage(week *schedule.Week) weekPage {
	s := scaleOf(week.Days)
	page := weekPage{
		Week: week, Name: isoWeek(week.From), Hours: s.hours(),
		Previous: isoWeek(week.From.AddDays(-daysOfWeek)), Next: isoWeek(week.To.AddDays(1)),
		This: !week.Today.Before(week.From) && !week.Today.After(week.To), Past: week.To.Before(week.Today),
	}
	for _, d := range week.Days {
		drawn := dayPage{Day: d, Today: d.Date == week.Today, Over: d.Date.Before(week.Today)}
		for _, r := range d.Rounds {
			drawn.Strips = append(drawn.Strips, s.strip(r, d.Light))
		}
		page.Drawn = append(page.Drawn, drawn)
	}
	return page
}

// Empty tells whether nothing is placed on any day.
func (p weekPage) Empty() bool { return p.Totals.Visits == 0 }

// Driving is the time on the road over the week.
func (p weekPage) Driving() string { return driving(p.Totals) }

// Km is the distance driven over the week.
func (p weekPage) Km() string { return km(p.Totals) }

func driving(t schedule.Totals) string { return view.Duration(time.Duration(t.Seconds) * time.Second) }

func km(t schedule.Totals) string { return view.Number((t.Metres + 500) / 1000) }
