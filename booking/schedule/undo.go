package schedule

import (
	"context"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
)

// Undoable is what would be undone next: the newest acceptance that holds;
// ok is false for none.
func (p *Planner) Undoable(ctx context.Context) (a booking.Acceptance, ok bool, err error) {
	all, err := p.Store.Acceptances(ctx, "")
	for _, a := range all {
		if a.Undone.IsZero() {
			return a, true, err
		}
	}
	return a, false, err
}

// Undo puts back what the newest acceptance changed, in one transaction. It is
// refused, with the reason, when something of it has moved or begun since.
func (p *Planner) Undo(ctx context.Context, id booking.ID) error {
	a, ok, err := p.Undoable(ctx)
	switch {
	case err != nil:
		return err
	case !ok:
		return fault.New(fault.Conflict, "There is no accepted plan to undo.")
	case a.ID != id:
		return fault.New(fault.Conflict, "This has been undone already, or another plan was accepted after it. Undo the newest first.")
	}
	order, err := p.Store.Planning(ctx, a.Planning)
	if err != nil {
		return err
	}
	w, err := p.load(ctx, order.From, order.From.AddDays(order.Days-1))
	if err != nil {
		return err
	}
	if err := p.untouched(ctx, w, a); err != nil {
		return err
	}
	change, err := p.fit(w, back(a))
	if err != nil {
		return err
	}
	restore(a, &change)
	change.Verb, change.Detail = "undid", say.Day(order.From)+": "+a.Says
	if err := p.tell(ctx, w, &change); err != nil {
		return err
	}
	change.Accept = nil
	return p.Store.ApplyPlan(ctx, change)
}

// untouched tells whether everything an acceptance changed is as it left it.
func (p *Planner) untouched(ctx context.Context, w *world, a booking.Acceptance) error {
	for _, left := range a.After {
		v, err := p.Store.Visit(ctx, left.ID)
		if err != nil {
			return err
		}
		if v.Version != left.Version {
			return cannotUndo("The visit to " + w.farms[v.FarmID].Name + w.whatBecame(left, v))
		}
	}
	for _, left := range a.Left {
		b, err := p.Store.Booking(ctx, left.ID)
		if err != nil {
			return err
		}
		if b.Version != left.Version {
			return cannotUndo("The booking of " + w.farms[b.FarmID].Name + " has changed since")
		}
	}
	for _, old := range a.Before {
		if old.State.Live() && old.Working().Before(w.now) {
			return cannotUndo("The old time of " + w.farms[old.FarmID].Name + " is over")
		}
	}
	return nil
}

func cannotUndo(why string) error {
	return fault.New(fault.Conflict, why+", so this cannot be undone as a whole. Nothing was moved; move single visits by hand.")
}

// whatBecame says how a visit differs from how it was left.
func (w *world) whatBecame(left, now booking.Visit) string {
	switch {
	case begun(now):
		return " has begun"
	case now.State == booking.CalledOff:
		return " was called off since"
	case !now.Arrive.Equal(left.Arrive) || now.RigID != left.RigID:
		return " was moved since"
	case now.State == booking.Fixed && left.State != booking.Fixed:
		return " was promised to the farmer since"
	}
	return " has changed since"
}

// back are the bookings of an acceptance with the visits they had.
func back(a booking.Acceptance) map[booking.ID][]booking.Visit {
	want := map[booking.ID][]booking.Visit{}
	for _, v := range a.After {
		want[v.BookingID] = nil
	}
	for _, v := range a.Before {
		want[v.BookingID] = append(want[v.BookingID], v)
	}
	return want
}

// restore makes a change store exactly what was there before an acceptance.
func restore(a booking.Acceptance, c *booking.PlanChange) {
	c.Undo, c.Save, c.Bookings, c.Drop = a.ID, nil, nil, nil
	c.Accept = &booking.Acceptance{}
	before := byID(a.Before, func(v booking.Visit) booking.ID { return v.ID })
	for _, left := range a.After {
		v, there := before[left.ID]
		if !there {
			v = left
			v.State = booking.CalledOff
		}
		v.Version = left.Version
		c.Save = append(c.Save, &v)
		if left.State.Live() {
			c.Accept.Before = append(c.Accept.Before, left)
		}
		delete(c.RestsOn, v.ID)
	}
	for _, was := range a.Was {
		i := slices.IndexFunc(a.Left, func(b booking.Booking) bool { return b.ID == was.ID })
		was.Version = a.Left[i].Version
		c.Bookings = append(c.Bookings, &was)
		delete(c.RestsOn, was.ID)
	}
}
