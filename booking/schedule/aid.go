package schedule

import (
	"drawbar/booking"
	"drawbar/booking/pace"
)

// JobOf describes the work of a booking with one rig and its crew.
func JobOf(b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig) pace.Job {
	return Job(b.Mobs, yard, farm.Hygiene, rig, len(rig.Crew))
}

// WhatIf tries what can be changed about a job, one thing at a time; the
// largest saving comes first. The error names the field of the job.
func (p *Planner) WhatIf(job pace.Job) ([]pace.Alternative, error) {
	all, err := p.Pace.WhatIf(job)
	return all, kind(err)
}

// Try estimates a job that somebody made up. The error names its field.
func (p *Planner) Try(job pace.Job) (pace.Estimate, error) {
	e, err := p.Pace.Estimate(job)
	return e, kind(err)
}
