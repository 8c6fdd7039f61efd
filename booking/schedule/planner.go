package schedule

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/routing"
)

// Planner plans weeks and shows them.
type Planner struct {
	Store booking.Store
	Roads routing.Roads
	Pace  *pace.Current // lessons from signed dockets replace its model
	Now   func() time.Time
	Costs Costs
	Desk  *booking.Desk // writes to farmers whose promised day moves

	Reports Reports // from the phones; nil for none
}

// New makes a planner with the usual costs.
func New(store booking.Store, roads routing.Roads, model *pace.Model, now func() time.Time) *Planner {
	return &Planner{Store: store, Roads: roads, Pace: pace.NewCurrent(model), Now: now, Costs: UsualCosts, Desk: &booking.Desk{Store: store, Now: now}}
}

// homeID is the home yard's place in travel tables.
const homeID = "home"

// places are home and the given yards, for a travel table.
func places(business booking.Business, yards []booking.Yard) []routing.Place {
	all := make([]routing.Place, 0, len(yards)+1)
	all = append(all, routing.Place{ID: homeID, At: business.Home})
	for _, y := range yards {
		all = append(all, routing.Place{ID: string(y.ID), At: y.At})
	}
	return all
}
