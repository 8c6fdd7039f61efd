package board

import (
	"context"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// absence is somebody of a crew who does not come on the day.
type absence struct {
	Name, Reason string
	To           civil.Date
}

// hands lists who goes with the rigs, and who of them is away.
func (b *board) hands(ctx context.Context, page *troublePage, rigs []booking.Rig) error {
	people, err := b.Store.People(ctx)
	for _, p := range people {
		if !p.Active || !slices.ContainsFunc(rigs, func(r booking.Rig) bool { return slices.Contains(r.Crew, p.ID) }) {
			continue
		}
		page.Hands = append(page.Hands, view.Option{Value: string(p.ID), Label: p.Name})
		if a, is := p.AwayOn(page.Day); is {
			page.Away = append(page.Away, absence{p.Name, a.Reason, a.To})
			page.Form.Set("ill_who", []string{string(p.ID)})
		}
	}
	return err
}

// troubleAway notes that somebody stays at home until a day.
func (b *board) troubleAway(c *gin.Context) error {
	return b.noted(c, "ill_", func(f *view.Form, day civil.Date) note {
		who := f.ID("ill_who", fault.Required)
		away := booking.Away{From: day, To: f.Date("ill_to", fault.Required), Reason: f.Text("ill_reason")}
		return func(ctx context.Context) (schedule.Order, error) { return b.Planner.MarkAway(ctx, who, away) }
	})
}
