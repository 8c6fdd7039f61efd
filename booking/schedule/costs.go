package schedule

import (
	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/routing/round"
)

// Costs are what the planner weighs against each other, in minor units of the
// business's currency.
type Costs struct {
	Prices  round.Costs
	Urgent  int64 // leaving out a booking that has no later day
	CanWait int64 // leaving out one that has
	Shuffle int64 // moving, when something goes wrong, a visit that nobody was told of
	Nudge   int64 // and moving one only a little
}

// UsualCosts are common practice, no source. What rounds cost to run comes from
// the business.
var UsualCosts = Costs{
	Prices:  round.Costs{LateHour: 15_000, MoveDay: 12_000, MoveTime: 4_000, MoveRig: 2_000, Tolerance: 30 * 60},
	Urgent:  500_000,
	CanWait: 60_000,
	Shuffle: 3_000,
	Nudge:   2_500,
}

// prices are what the planner reckons with for a business.
func (c Costs) prices(b booking.Business) round.Costs {
	p, r := c.Prices, b.Costs()
	p.Hour, p.OvertimeHour, p.RigDay, p.NightOut = r.Hour, r.Overtime, r.TurnOut, r.Lodging
	p.Km, p.SoloKm = r.Km, r.SoloKm
	return p
}

// value is what leaving out a booking costs. One that comes first is worth
// several usual ones, and several that can wait are worth one (common practice,
// no source).
func (c Costs) value(p booking.Priority, last bool) int64 {
	value := c.CanWait
	if last {
		value = c.Urgent
	}
	switch p {
	case booking.ComesFirst:
		return min(5*max(value, c.Urgent), round.MaxPrice)
	case booking.CanWait:
		return value / 5
	}
	return value
}

// hygiene is the wash-down between flocks by class, and the days that pass
// before a rig goes from an infected flock to another. Cleaning in and out and
// infected flocks last: published biosecurity advice (Staffordshire Trading
// Standards; CFIA standard). The minutes: common practice, no source. Where a
// notifiable disease is about, the vet and the authority decide, not this table.
func hygiene() round.Hygiene {
	var h round.Hygiene
	for from := range round.Classes {
		wash := secondsOf(pace.WashDown(from))
		h.Home[from] = wash
		for to := range round.Classes {
			h.Between[from][to] = wash
		}
	}
	for to := range round.Classes - 1 {
		h.Wait[round.Classes-1][to] = 1
	}
	return h
}
