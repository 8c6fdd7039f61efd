package offer

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
)

const (
	// darkest is the chance of ending in the dark up to which a day is offered.
	darkest = 0.1
	// noticeDays is how far ahead a day has to be, for the kit to be got.
	noticeDays = 2
)

// Offers are the days that farmers may take.
type Offers struct {
	Store   booking.Store
	Planner *schedule.Planner
}

// For gives the slots from which a booking's farmer may choose, the best for
// the rounds first; none where the business decides by hand.
func (o Offers) For(ctx context.Context, b booking.Booking) ([]schedule.Slot, error) {
	if ok, err := o.open(ctx, b); !ok || err != nil {
		return nil, err
	}
	all, err := o.Planner.Slots(ctx, b.ID)
	var kept []schedule.Slot
	for _, s := range all {
		if fit(s) {
			kept = append(kept, s)
		}
	}
	return kept, err
}

// Take promises one of the slots. A Conflict says that it is gone, or that the
// booking has changed since the farmer looked.
func (o Offers) Take(ctx context.Context, id booking.ID, version int, at schedule.Place) error {
	b, err := o.Store.Booking(ctx, id)
	if err != nil {
		return err
	}
	ok, err := o.open(ctx, b)
	if err != nil {
		return err
	}
	if !ok || b.Version != version {
		return fault.New(fault.Conflict, "This booking has changed since you looked at it. Here is how it stands now.")
	}
	err = o.Planner.Take(ctx, b, at, fit)
	if fault.Is(err, fault.Conflict) {
		return fault.Wrap(fault.Conflict, err, "That day has just gone to somebody else. These are left.")
	}
	return err
}

// open tells whether a booking's farmer may choose at all.
func (o Offers) open(ctx context.Context, b booking.Booking) (bool, error) {
	business, err := o.Store.Business(ctx)
	if err != nil || !business.FarmersChoose || b.State != booking.Asked || b.Attention != "" {
		return false, err
	}
	been, err := o.Store.Visits(ctx, booking.VisitQuery{FarmID: b.FarmID, States: []booking.VisitState{booking.SignedOff}, Limit: 1})
	return len(been) > 0, err
}

// fit tells whether a slot can be given away unseen.
func fit(s schedule.Slot) bool {
	return s.Dark <= darkest && s.Overtime <= 0 && s.Ahead >= noticeDays
}
