package board

import (
	"fmt"
	"net/http"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// search is bounded by iterations, not time, so that the plan that is
// accepted is the plan that was shown.
var search = schedule.Search{Seed: 1, Iterations: 4000}

// planPage shows what a plan would change.
type planPage struct {
	*schedule.Proposal
	Week  string
	Stale string // a sentence when an earlier plan no longer holds
}

func (b *board) planPreview(c *gin.Context) error {
	return b.showPlan(c, http.StatusOK, "")
}

func (b *board) showPlan(c *gin.Context, status int, stale string) error {
	first, err := weekOf(c)
	if err != nil {
		return err
	}
	proposal, err := b.Planner.Propose(c.Request.Context(), first, daysOfWeek, search)
	if err != nil {
		return err
	}
	return view.Render(c, status, pages, "plan", planPage{Proposal: proposal, Week: isoWeek(first), Stale: stale})
}

// planAccept plans again and applies the plan if it is the one that was shown.
func (b *board) planAccept(c *gin.Context) error {
	first, err := weekOf(c)
	if err != nil {
		return err
	}
	proposal, err := b.Planner.Propose(c.Request.Context(), first, daysOfWeek, search)
	if err != nil {
		return err
	}
	err = b.Planner.Apply(c.Request.Context(), proposal, c.PostForm("fingerprint"))
	if fault.Is(err, fault.Conflict) {
		return b.showPlan(c, http.StatusConflict, fault.Sentence(err))
	}
	if err != nil {
		return err
	}
	session.Flash(c, summary(proposal))
	return view.See(c, "/week/"+isoWeek(first))
}

// summary says what a plan did: "12 placed, 3 moved, 2 still without a day."
func summary(p *schedule.Proposal) string {
	placed, moved, out := p.Counts()
	var parts []string
	for _, part := range []struct {
		n    int
		text string
	}{{placed, "placed"}, {moved, "moved"}, {out, "taken out"}, {len(p.LeftOut), "still without a day"}} {
		if part.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", part.n, part.text))
		}
	}
	if len(parts) == 0 {
		return "Everything stays as it is."
	}
	return strings.Join(parts, ", ") + "."
}

// Driving is the time on the road.
func (planPage) Driving(t schedule.Totals) string { return driving(t) }

// Km is the distance driven.
func (planPage) Km(t schedule.Totals) string { return km(t) }

// moveLine is one change in words.
type moveLine struct{ Farm, Animals, Says string }

// Lines are the changes in words, in order of time.
func (p planPage) Lines() []moveLine {
	lines := make([]moveLine, len(p.Moves))
	for i, m := range p.Moves {
		lines[i] = moveLine{Farm: m.Farm.Name, Animals: m.Booking.MobsInWords(), Says: p.says(m)}
	}
	return lines
}

func (p planPage) says(m schedule.Move) string {
	switch {
	case m.Old == nil:
		return "Placed on " + p.where(m.New, m.NewRig) + "."
	case m.New == nil:
		return "Taken out of " + p.where(m.Old, m.OldRig) + "."
	}
	return "From " + p.where(m.Old, m.OldRig) + " to " + p.where(m.New, m.NewRig) + "."
}

// where is a visit's place in words: "Tue 9 at 13:06 with Rig North".
func (p planPage) where(v *booking.Visit, rig string) string {
	text := view.Day(v.Day) + " at " + view.Clock(v.Arrive, p.Zone) + " with " + rig
	if v.Parts > 1 {
		text += fmt.Sprintf(" (day %d of %d)", v.Part, v.Parts)
	}
	return text
}
