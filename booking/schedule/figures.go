package schedule

import (
	"drawbar/routing/round"
)

// Figures are what a plan comes to.
type Figures struct {
	Visits   int
	Head     int
	Driving  int64 // seconds, without the rig too
	Metres   int64
	Cost     int64 // hours, overtime, kilometres, days out and nights; minor units
	Overtime int64 // seconds
	Nights   int   // rig nights away from home
	Dark     float64
	Estimate bool // some of the driving is estimated, not from roads
}

// figures adds a plan up. What leaving out a booking, breaking a promise or
// finishing late is weighed with is no cost that anybody pays, so it is not in
// Cost. Dark is the chance that some day's work ends after daylight.
func (pb *problem) figures(plan round.Plan) Figures {
	c := plan.Cost
	f := Figures{
		Driving: plan.Totals.Drive, Metres: plan.Totals.Metres, Overtime: plan.Totals.Overtime, Nights: plan.Totals.Nights,
		Cost: (c.Hours + c.Overtime + c.Driving + c.Days + c.Nights).Minor(),
	}
	light := 1.0
	for _, r := range plan.Rounds {
		light *= r.Chance
		for _, s := range r.Stops {
			f.Visits++
			f.Head += pb.head(s)
			f.Estimate = f.Estimate || s.Drive != nil && s.Drive.Estimate
		}
	}
	f.Dark = 1 - light
	return f
}

// head counts a booking's animals with its first part.
func (pb *problem) head(s round.Stop) int {
	if v, held := pb.held[s.Visit]; held {
		return v.Head
	}
	if s.Part > 1 {
		return 0
	}
	return pb.ask[s.Visit].Head()
}
