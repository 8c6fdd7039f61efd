package schedule

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
)

// Detail is how long a booking takes.
type Detail struct {
	Estimate pace.Estimate
	Problem  string // why it cannot be estimated; "" when it can
}

// Detail estimates a booking with one rig and its crew.
func (p *Planner) Detail(b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig) Detail {
	return detail(p.Pace.Estimate(JobOf(b, farm, yard, rig)))
}

// Details estimates bookings without a day, each with the quickest rig that
// has what it needs.
func (p *Planner) Details(ctx context.Context, waiting ...Waiting) ([]Detail, error) {
	f, err := p.fleet(ctx)
	if err != nil {
		return nil, err
	}
	all := make([]Detail, len(waiting))
	for i, w := range waiting {
		all[i] = detail(p.estimate(f, w.Booking.Mobs, w.Yard, w.Farm.Hygiene))
	}
	return all, nil
}

func detail(e pace.Estimate, err error) Detail {
	if err != nil {
		return Detail{Problem: fault.Sentence(kind(err))}
	}
	return Detail{Estimate: e}
}
