package round

import (
	"maps"
	"slices"
)

// Off is the problem with a rig, or every rig when none is named, not working
// on the days from..to: a rain-off, a breakdown.
func (p Problem) Off(rig string, from, to int, why string) Problem {
	return p.withDays(rig, from, to, func(d *RigDay) { d.Closed = why })
}

// StartingLate is the problem with a rig, or every rig, starting no earlier
// on a day.
func (p Problem) StartingLate(rig string, day int, start int32) Problem {
	return p.withDays(rig, day, day, func(d *RigDay) {
		d.Start = min(max(d.Start, start), d.End)
	})
}

func (p Problem) withDays(rig string, from, to int, change func(*RigDay)) Problem {
	p.Rigs = slices.Clone(p.Rigs)
	for r := range p.Rigs {
		if rig != "" && p.Rigs[r].ID != rig {
			continue
		}
		p.Rigs[r].Days = slices.Clone(p.Rigs[r].Days)
		for d := max(from, 0); d <= min(to, len(p.Rigs[r].Days)-1); d++ {
			change(&p.Rigs[r].Days[d])
		}
	}
	return p
}

// Resized is the problem with a visit of another size: its work, spread and
// load in per cent of what they were. Setting up takes as long as before.
func (p Problem) Resized(visit string, percent int64) Problem {
	p.Visits = slices.Clone(p.Visits)
	for i := range p.Visits {
		if p.Visits[i].ID == visit {
			p.Visits[i].resize(percent)
		}
	}
	return p
}

func (v *Visit) resize(percent int64) {
	scale := func(s int32) int32 { return int32(int64(s) * percent / 100) }
	v.Times = maps.Clone(v.Times)
	for rig, t := range v.Times {
		t.Work, t.Late80, t.Late90 = scale(t.Work), scale(t.Late80), scale(t.Late90)
		v.Times[rig] = t
	}
	v.Load = v.Load * percent / 100
}
