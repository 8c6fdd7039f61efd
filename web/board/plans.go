package board

import (
	"net/http"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// plansPage lists the plans that were asked for, and what was accepted.
type plansPage struct {
	Plannings []booking.Planning
	Accepted  map[booking.ID][]booking.Acceptance
	Undo      booking.ID // the newest that holds
	Refused   string     // why it could not be undone
}

func (b *board) plans(c *gin.Context) error { return b.showPlans(c, http.StatusOK, "") }

func (b *board) showPlans(c *gin.Context, status int, refused string) error {
	ctx := c.Request.Context()
	page := plansPage{Accepted: map[booking.ID][]booking.Acceptance{}, Refused: refused}
	var err error
	if page.Plannings, err = b.Store.Plannings(ctx, booking.PlanningQuery{}); err != nil {
		return err
	}
	all, err := b.Store.Acceptances(ctx, "")
	if err != nil {
		return err
	}
	for _, a := range all {
		page.Accepted[a.Planning] = append(page.Accepted[a.Planning], a)
		if page.Undo == "" && a.Undone.IsZero() {
			page.Undo = a.ID
		}
	}
	return view.Render(c, status, pages, "plans", page)
}

// planUndo puts back what the newest acceptance changed.
func (b *board) planUndo(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	id := form.ID("acceptance", fault.Required)
	if err := form.Errors.Err(); err != nil {
		return err
	}
	err = b.Planner.Undo(c.Request.Context(), id)
	if fault.Is(err, fault.Conflict) {
		return b.showPlans(c, http.StatusConflict, fault.Sentence(err))
	}
	if err != nil {
		return err
	}
	session.Flash(c, "Undone: everything is where it was before.")
	return view.See(c, "/board/plans")
}

// Ends are the last days of the plans.
func (p plansPage) Ends() map[booking.ID]civil.Date {
	ends := map[booking.ID]civil.Date{}
	for _, plan := range p.Plannings {
		ends[plan.ID] = plan.From.AddDays(plan.Days - 1)
	}
	return ends
}
