package schedule

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/routing/round"
)

// Accept puts a found plan into effect: the bookings named, or all that are
// left of it. Everything happens in one transaction, and only where what the
// plan rests on has not changed since. It says what was done.
func (p *Planner) Accept(ctx context.Context, planning booking.ID, units ...booking.ID) (string, error) {
	f, err := p.Found(ctx, planning)
	if err != nil {
		return "", err
	}
	moves, err := f.chosen(units)
	if err != nil {
		return "", err
	}
	says, err := p.accept(ctx, f, moves, len(units) == 0)
	if !fault.Is(err, fault.Conflict) {
		return says, err
	}
	// Something changed between looking and storing: say what, if it can be seen.
	if again, ferr := p.Found(ctx, planning); ferr == nil {
		if w, lerr := p.load(ctx, f.Plan.From, f.Plan.To); lerr == nil {
			if changes := again.changed(w, moves, len(units) == 0); len(changes) > 0 {
				return "", stale(changes)
			}
		}
	}
	return "", err
}

// chosen are the moves of some bookings that were not accepted yet; all for
// none named.
func (f *Found) chosen(units []booking.ID) ([]Move, error) {
	done := f.Done()
	var moves []Move
	for _, m := range f.Plan.Moves {
		if !done[m.Booking] && (len(units) == 0 || slices.Contains(units, m.Booking)) {
			moves = append(moves, m)
		}
	}
	if len(moves) == 0 {
		return nil, fault.New(fault.Conflict, "There is nothing left to accept in this plan; it may have been accepted already.")
	}
	return moves, nil
}

func (p *Planner) accept(ctx context.Context, f *Found, moves []Move, all bool) (string, error) {
	w, err := p.load(ctx, f.Plan.From, f.Plan.To)
	if err != nil {
		return "", err
	}
	if changes := f.changed(w, moves, all); len(changes) > 0 {
		return "", stale(changes)
	}
	want := map[booking.ID][]booking.Visit{}
	for _, m := range moves {
		want[m.Booking] = m.New
	}
	change, err := p.fit(w, want)
	if err != nil {
		return "", err
	}
	says := inWords(moves)
	change.Verb, change.Detail = "planned", say.Day(f.Plan.From)+" to "+say.Day(f.Plan.To)+": "+says
	change.Accept.Planning, change.Accept.Says = f.Planning.ID, says
	for _, m := range moves {
		change.Accept.Units = append(change.Accept.Units, m.Booking)
	}
	if err := p.tell(ctx, w, &change); err != nil {
		return "", err
	}
	return says, p.Store.ApplyPlan(ctx, change)
}

func stale(changes []string) error {
	return fault.New(fault.Conflict, "Since this plan was made: "+strings.Join(changes, " ")+" Nothing was moved; plan again to take it in.")
}

// inWords counts moves: "12 placed, 3 moved, 1 taken out".
func inWords(moves []Move) string {
	prop := Proposal{Moves: moves}
	placed, moved, out := prop.Counts()
	var parts []string
	for _, part := range []struct {
		n    int
		text string
	}{{placed, "placed"}, {moved, "moved"}, {out, "taken out"}} {
		if part.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", part.n, part.text))
		}
	}
	return strings.Join(parts, ", ")
}

// fit lays the days out with some bookings at other places, and gives the
// change that puts them there. The referee looks at the whole of it: what does
// not fit is refused, with the reason.
func (p *Planner) fit(w *world, want map[booking.ID][]booking.Visit) (booking.PlanChange, error) {
	now := map[booking.ID][]booking.Visit{}
	for _, v := range w.visits {
		now[v.BookingID] = append(now[v.BookingID], v)
	}
	pb := p.pose(w, func(v booking.Visit) bool {
		_, wanted := want[v.BookingID]
		return movable(v) || wanted && mendable(v)
	})
	for id := range want {
		if pb.settled(w.bookings[id]) {
			return booking.PlanChange{}, fault.Newf(fault.Conflict, "The visit to %s has begun, or reaches beyond these days. Nothing was moved.", w.farms[w.bookings[id].FarmID].Name)
		}
	}
	pb.clear(want)
	target := pb.byBooking(w.visits)
	maps.Copy(target, want)
	t := pb.placedAt(target)
	if len(t.misfits) > 0 {
		return booking.PlanChange{}, fault.Wrap(fault.Conflict, &crowded{t.out}, "As the days are now this does not fit in beside "+strings.Join(t.misfits, "; ")+
			". Nothing was moved; accept what belongs together, or plan again.")
	}
	if err := t.judged(t.plan); err != nil {
		return booking.PlanChange{}, err
	}
	return pb.changeTo(t, want), nil
}

// crowded is why a change does not fit: the bookings that could not be kept.
type crowded struct{ out map[booking.ID]bool }

func (c *crowded) Error() string { return fmt.Sprintf("%d bookings cannot be kept", len(c.out)) }

// clear sets aside what breaks a rule already where it is, with its rig's day:
// it is not this change's to mend.
func (pb *problem) clear(want map[booking.ID][]booking.Visit) {
	at := pb.byBooking(pb.world.visits)
	for id := range want {
		delete(at, id)
	}
	for id := range pb.placedAt(at).out {
		pb.stays[id] = true
		pb.Visits = slices.DeleteFunc(pb.Visits, func(v round.Visit) bool { return v.ID == string(id) })
		for _, v := range pb.visitsFor(id) {
			pb.close("visit "+string(v.ID), v)
		}
	}
}

// changeTo is what has to be stored so that the days are as in a trial: the
// bookings wanted, and what follows for their neighbours, such as where the
// rig stays.
func (pb *problem) changeTo(t trial, want map[booking.ID][]booking.Visit) booking.PlanChange {
	c := booking.PlanChange{Accept: &booking.Acceptance{}}
	c.RestsOn, c.Days = pb.ground().seen()
	planned := t.visitsOf(t.plan)
	for _, b := range pb.planOrder() {
		old, next := pb.visitsFor(b.ID), planned[b.ID]
		if _, changed := pb.compare(b, old, next); !changed {
			continue
		}
		for i := range next {
			c.Save = append(c.Save, &next[i])
		}
		for i := len(next); i < len(old); i++ {
			out := old[i]
			out.State = booking.CalledOff
			c.Save = append(c.Save, &out)
		}
		c.Accept.Before = append(c.Accept.Before, old...)
		if _, wanted := want[b.ID]; wanted {
			pb.changeBooking(&c, b, old, next)
		}
	}
	for _, v := range c.Save {
		delete(c.RestsOn, v.ID) // saving checks it
	}
	return c
}

// changeBooking notes what moving does to the booking itself.
func (pb *problem) changeBooking(c *booking.PlanChange, b booking.Booking, old, next []booking.Visit) {
	was := b
	switch {
	case len(old) == 0:
		return
	case b.State == booking.Offered && !keepsWord(old, next):
		b.State, b.Attention = booking.Asked, "The day that was offered has moved; offer the new one."
	case old[0].State == booking.Fixed && len(next) == 0:
		b.State, b.Attention = booking.Asked, "The promised day was taken back; the farmer was told. Find another."
	default:
		return
	}
	delete(c.RestsOn, b.ID)
	c.Accept.Was = append(c.Accept.Was, was)
	c.Bookings = append(c.Bookings, &b)
}

// tell writes to the farmers whose promised day moves.
func (p *Planner) tell(ctx context.Context, w *world, c *booking.PlanChange) error {
	before := byID(c.Accept.Before, func(v booking.Visit) booking.ID { return v.ID })
	next := map[booking.ID][]booking.Visit{}
	old := map[booking.ID][]booking.Visit{}
	var order []booking.ID
	for _, v := range c.Save {
		was, there := before[v.ID]
		promised := there && was.State == booking.Fixed || v.State == booking.Fixed
		same := there && was.State == v.State && near(was, *v)
		if !promised || same {
			continue
		}
		if !slices.Contains(order, v.BookingID) {
			order = append(order, v.BookingID)
		}
		if there {
			old[v.BookingID] = append(old[v.BookingID], was)
		}
		if v.State == booking.Fixed {
			next[v.BookingID] = append(next[v.BookingID], *v)
		}
	}
	for _, id := range order {
		link, notice, err := p.Desk.MovedLetter(ctx, w.bookings[id], old[id], next[id])
		if err != nil {
			return err
		}
		c.Links, c.Notices = append(c.Links, link), append(c.Notices, notice)
	}
	return nil
}

// keepsWord tells whether new visits are what the farmer was told of the old
// ones: the same days, about the same time.
func keepsWord(old, next []booking.Visit) bool { return slices.EqualFunc(old, next, near) }

// near is about the same time: the letters say "about".
func near(a, b booking.Visit) bool {
	apart := a.Arrive.Sub(b.Arrive).Abs()
	return a.Day == b.Day && apart <= time.Duration(UsualCosts.Prices.Tolerance)*time.Second
}
