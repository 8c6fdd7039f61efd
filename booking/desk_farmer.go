package booking

import (
	"context"
	"fmt"
	"slices"
	"time"

	"drawbar/booking/fault"
)

// Wish is what a farmer may change about a booking.
type Wish struct {
	Version int
	Mobs    []Mob
	Windows []Window
	Note    string
}

// Change takes a farmer's new wish in. An agreed day stays where the new
// windows still allow it; otherwise the visit is free to move again. Either
// way the contractor is told.
func (d *Desk) Change(ctx context.Context, id ID, w Wish) (Booking, error) {
	business, err := d.Store.Business(ctx)
	if err != nil {
		return Booking{}, err
	}
	b, err := d.openBooking(ctx, id)
	if err != nil {
		return b, err
	}
	visits, err := d.waiting(ctx, id)
	if err != nil {
		return b, err
	}
	before := b.Head()
	keepWeights(b.Mobs, w.Mobs)
	b.Version, b.Mobs, b.Windows, b.Note = w.Version, w.Mobs, w.Windows, w.Note
	services, err := d.Store.Services(ctx)
	if err != nil {
		return b, err
	}
	if err := b.Check(ByCode(services), d.today(business)); err != nil {
		return b, err
	}
	b.Attention = changedAttention(before, b, visits)
	return b, d.store(ctx, b, releaseUnsuited(&b, visits, business.Location()), "changed", letter.changed)
}

// changedAttention tells the contractor what a change means for the plan.
func changedAttention(before int, b Booking, visits []Visit) string {
	if len(visits) == 0 {
		return ""
	}
	text := "The farmer changed this after a day was planned"
	if b.Head() != before {
		text += fmt.Sprintf(": %d head instead of %d", b.Head(), before)
	}
	return text + ". Plan again or ring."
}

// releaseUnsuited lets a promised or offered booking go when any of its visits
// no longer falls in a window: its days belong together.
func releaseUnsuited(b *Booking, visits []Visit, zone *time.Location) []*Visit {
	promised := b.State == Agreed || b.State == Offered
	unsuited := slices.ContainsFunc(visits, func(v Visit) bool { return !b.SuitsAt(v.Working(), zone) })
	if !promised || !unsuited {
		return nil
	}
	b.State = Asked
	return inState(visits, Pencilled)
}

// Withdraw takes a booking back and frees its visits.
func (d *Desk) Withdraw(ctx context.Context, id ID, version int) (Booking, error) {
	b, err := d.openBooking(ctx, id)
	if err != nil {
		return b, err
	}
	visits, err := d.waiting(ctx, id)
	if err != nil {
		return b, err
	}
	var freed []*Visit
	for i := range visits {
		visits[i].State = CalledOff
		freed = append(freed, &visits[i])
	}
	b.Version, b.State, b.Attention = version, Withdrawn, ""
	return b, d.store(ctx, b, freed, "withdrew", letter.withdrawn)
}

// Accept is the farmer's yes to the day that was offered.
func (d *Desk) Accept(ctx context.Context, id ID, version int) (Booking, error) {
	return d.answer(ctx, id, version, Agreed, Fixed, "accepted the day of")
}

// Decline is the farmer's no: the visit stays pencilled until it is planned
// anew.
func (d *Desk) Decline(ctx context.Context, id ID, version int) (Booking, error) {
	return d.answer(ctx, id, version, Asked, Pencilled, "declined the day of")
}

func (d *Desk) answer(ctx context.Context, id ID, version int, state State, visit VisitState, verb string) (Booking, error) {
	b, err := d.openBooking(ctx, id)
	if err != nil {
		return b, err
	}
	if b.State != Offered {
		return b, fault.New(fault.Conflict, "There is no day waiting for an answer any more. Here is how the booking stands now.")
	}
	visits, err := d.waiting(ctx, id)
	if err != nil {
		return b, err
	}
	b.Version, b.State, b.Attention = version, state, ""
	if state == Asked {
		b.Attention = "The farmer cannot do the day that was offered. Plan again or ring."
	}
	return b, d.store(ctx, b, inState(visits, visit), verb, answered(visits, state))
}

// answered picks the letter for a farmer's answer; a no needs none.
func answered(visits []Visit, state State) func(letter, Booking, string) Notice {
	if state != Agreed || len(visits) == 0 {
		return nil
	}
	return func(l letter, b Booking, url string) Notice { return l.agreed(b, visits, url) }
}

func inState(visits []Visit, state VisitState) []*Visit {
	changed := make([]*Visit, len(visits))
	for i := range visits {
		visits[i].State = state
		changed[i] = &visits[i]
	}
	return changed
}

// openBooking is a booking that can still be changed.
func (d *Desk) openBooking(ctx context.Context, id ID) (Booking, error) {
	b, err := d.Store.Booking(ctx, id)
	if err != nil {
		return b, err
	}
	if !b.State.Open() {
		return b, fault.Newf(fault.Conflict, "This booking is %s and cannot be changed any more. A new booking is always welcome.", b.State)
	}
	visits, err := d.Store.Visits(ctx, VisitQuery{BookingID: id, States: []VisitState{UnderWay, SignedOff}})
	if err == nil && len(visits) > 0 {
		err = fault.New(fault.Conflict, "The work on this booking has begun, so it cannot be changed here. Please speak to the crew.")
	}
	return b, err
}

// waiting are a booking's visits that have not begun.
func (d *Desk) waiting(ctx context.Context, id ID) ([]Visit, error) {
	return d.Store.Visits(ctx, VisitQuery{BookingID: id, States: []VisitState{Pencilled, Fixed}})
}

// store saves a booking with its visits and, if there is something to tell,
// a letter with a fresh link.
func (d *Desk) store(ctx context.Context, b Booking, visits []*Visit, verb string, write func(letter, Booking, string) Notice) error {
	change := BookingChange{Booking: &b, Visits: visits, Verb: verb}
	if write != nil {
		link, notice, err := d.letterWith(ctx, b, write)
		if err != nil {
			return err
		}
		change.Links, change.Notices = []Link{link}, []Notice{notice}
	}
	return d.Store.ChangeBooking(ctx, change)
}
