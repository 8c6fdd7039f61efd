package booking

import "drawbar/booking/fault"

// Running is what a business's rounds cost to run, in minor units of its
// currency. It decides between plans and stands on no invoice.
type Running struct {
	Hour     int64 // an hour of the crew
	Overtime int64 // an hour past the end of the day, on top
	Km       int64 // a kilometre with the rig
	SoloKm   int64 // a kilometre without it
	TurnOut  int64 // going out at all on a day
	Lodging  int64 // a night that the crew lodges
}

// UsualRunning is a small contractor's (common practice, no source).
var UsualRunning = Running{Hour: 4_000, Overtime: 6_000, Km: 90, SoloKm: 50, TurnOut: 3_000, Lodging: 12_000}

// Costs is what the business says its rounds cost, or what they usually do
// while it has not said.
func (b Business) Costs() Running {
	if b.Running == (Running{}) {
		return UsualRunning
	}
	return b.Running
}

// dearest is what any of the costs is at most.
const dearest = 10_000_000

// Check says what is wrong with the entries, field by field.
func (r Running) Check() error {
	f := fault.Fields{}
	for name, cost := range map[string]int64{
		"hour": r.Hour, "overtime": r.Overtime, "km": r.Km, "solo_km": r.SoloKm, "turn_out": r.TurnOut, "lodging": r.Lodging,
	} {
		switch {
		case cost < 0:
			f.Add(name, "Give an amount that is not negative.")
		case cost > dearest:
			f.Add(name, "This is more than a plan can reckon with. Give a smaller amount.")
		}
	}
	if r.Hour == 0 {
		f.Add("hour", "Give what an hour costs you; a plan weighs everything else against it.")
	}
	return f.Err()
}
