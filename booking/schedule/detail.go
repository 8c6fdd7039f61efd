package schedule

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
)

// Detail is how long a booking takes with one rig, part by part.
type Detail struct {
	Estimate pace.Estimate
	Parts    []Part
	Problem  string // why it cannot be estimated; "" when it can
}

// Part of a visit's time.
type Part struct {
	Name string
	Time time.Duration
}

// Detail estimates a booking with one rig. The crew is the rig's usual one.
func (p *Planner) Detail(b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig) Detail {
	e, err := p.Pace.Estimate(Job(b.Mobs, yard, farm.Hygiene, rig, len(rig.Crew)))
	if err != nil {
		return Detail{Problem: sentence(err)}
	}
	return Detail{Estimate: e, Parts: Parts(e)}
}

// Parts are the parts of an estimate that take any time, in working order.
func Parts(e pace.Estimate) []Part {
	var parts []Part
	for _, p := range []struct {
		name string
		part pace.Part
	}{
		{"Set-up", e.Parts.SetUp}, {"Work", e.Parts.Work}, {"Wall and gate changes", e.Parts.Changes},
		{"Breaks", e.Parts.Breaks}, {"Pack-down", e.Parts.PackDown}, {"Wash-down", e.Parts.WashDown},
	} {
		if d := minutes(p.part); d > 0 {
			parts = append(parts, Part{p.name, d})
		}
	}
	return parts
}
