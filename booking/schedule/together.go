package schedule

import (
	"context"
	"errors"

	"drawbar/booking"
)

// Together are the moves that have to be accepted with some bookings of a
// plan, those included, in the plan's order: the fewest found that fit. None
// when they would not fit even so.
func (p *Planner) Together(ctx context.Context, planning booking.ID, units ...booking.ID) ([]Move, error) {
	f, err := p.Found(ctx, planning)
	if err != nil || len(units) == 0 {
		return nil, err
	}
	w, err := p.load(ctx, f.Plan.From, f.Plan.To)
	if err != nil {
		return nil, err
	}
	left, err := f.chosen(nil)
	if err != nil {
		return nil, nil // nothing is left, so nothing goes with anything
	}
	set := map[booking.ID]bool{}
	for _, id := range units {
		set[id] = true
	}
	for {
		moves := pick(left, set)
		if len(f.changed(w, moves, false)) > 0 {
			return nil, nil
		}
		want := map[booking.ID][]booking.Visit{}
		for _, m := range moves {
			want[m.Booking] = m.New
		}
		_, err := p.fit(w, want)
		if err == nil {
			return moves, nil
		}
		if !widen(set, left, moves, err) {
			return nil, nil
		}
	}
}

func pick(moves []Move, set map[booking.ID]bool) []Move {
	var picked []Move
	for _, m := range moves {
		if set[m.Booking] {
			picked = append(picked, m)
		}
	}
	return picked
}

// widen adds the bookings that stand in the way: those that could not be kept,
// or else those that leave a day of a rig that is wanted. It tells whether
// there were any.
func widen(set map[booking.ID]bool, left, moves []Move, err error) bool {
	var full *crowded
	if !errors.As(err, &full) {
		return false
	}
	before := len(set)
	for _, m := range left {
		if full.out[m.Booking] {
			set[m.Booking] = true
		}
	}
	if len(set) > before {
		return true
	}
	for _, m := range left {
		if leaves(m, moves) {
			set[m.Booking] = true
		}
	}
	return len(set) > before
}

// leaves tells whether a move makes room on a rig's day that others go to.
func leaves(m Move, others []Move) bool {
	for _, old := range m.Old {
		for _, o := range others {
			for _, v := range o.New {
				if v.RigID == old.RigID && v.Day == old.Day {
					return true
				}
			}
		}
	}
	return false
}
