package schedule

import (
	"context"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
)

// Take promises a slot to the farmer who chose it: the visit is fixed, the
// booking agreed and the farmer written to, in one transaction and only while
// the days are as they were looked at. may tells which slots can be chosen. A
// slot that is gone is a conflict.
func (p *Planner) Take(ctx context.Context, b booking.Booking, at Place, may func(Slot) bool) error {
	w, err := p.suiting(ctx, b)
	if err != nil {
		return err
	}
	var slots []Slot
	if w != nil {
		slots = p.slotsIn(w, b)
	}
	i := slices.IndexFunc(slots, func(s Slot) bool { return s.Place == at && may(s) })
	if i < 0 {
		return fault.New(fault.Conflict, "This day is gone.")
	}
	visit := slots[i].visit
	visit.State = booking.Fixed
	b.State = booking.Agreed
	change := booking.PlanChange{
		Save: []*booking.Visit{&visit}, Bookings: []*booking.Booking{&b},
		Verb: "took", Detail: w.farms[b.FarmID].Name + ": " + slots[i].InWords(),
	}
	change.RestsOn, change.Days = w.ground().seen()
	link, letter, err := p.Desk.AgreedLetter(ctx, b, []booking.Visit{visit})
	if err != nil {
		return err
	}
	change.Links, change.Notices = []booking.Link{link}, []booking.Notice{letter}
	return p.Store.ApplyPlan(ctx, change)
}
