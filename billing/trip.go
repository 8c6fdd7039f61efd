package billing

import (
	"context"
	"errors"
	"slices"

	"drawbar/booking"
	"drawbar/routing"
)

// homeID names home in the table of drives.
const homeID = "home"

// journey is a rig's way to a yard and back.
type journey struct{ rig, yard booking.ID }

// trips are the drives of dockets from home and back, each as if made alone
// with the rig that came.
func (b Biller) trips(ctx context.Context, business booking.Business, works []Work) (map[journey]Trip, error) {
	wanted := map[booking.ID]map[booking.ID]bool{}
	for _, w := range works {
		if wanted[w.RigID] == nil {
			wanted[w.RigID] = map[booking.ID]bool{}
		}
		wanted[w.RigID][w.YardID] = true
	}
	yards, err1 := b.Trade.Yards(ctx, "")
	rigs, err2 := b.Trade.Rigs(ctx)
	if err := errors.Join(err1, err2); err != nil {
		return nil, err
	}
	trips := map[journey]Trip{}
	for rig, of := range wanted {
		own := slices.DeleteFunc(slices.Clone(yards), func(y booking.Yard) bool { return !of[y.ID] })
		found, err := b.tripsOf(ctx, business, rigOf(rigs, rig), own)
		if err != nil {
			return nil, err
		}
		for yard, trip := range found {
			trips[journey{rig, yard}] = trip
		}
	}
	return trips, nil
}

// rigOf is the rig on the road; one of no size if it is gone.
func rigOf(rigs []booking.Rig, id booking.ID) routing.Rig {
	for _, r := range rigs {
		if r.ID == id {
			return r.OnTheRoad()
		}
	}
	return routing.Rig{}
}

// tripsOf are one rig's drives to yards and back.
func (b Biller) tripsOf(ctx context.Context, business booking.Business, rig routing.Rig, yards []booking.Yard) (map[booking.ID]Trip, error) {
	places := []routing.Place{{ID: homeID, At: business.Home}}
	for _, y := range yards {
		places = append(places, routing.Place{ID: string(y.ID), At: y.At})
	}
	table, err := b.Roads.For(rig).Table(ctx, places, routing.Towing)
	if err != nil {
		return nil, err
	}
	trips := make(map[booking.ID]Trip, len(yards))
	for i, y := range yards {
		trips[y.ID] = thereAndBack(table.At(0, i+1), table.At(i+1, 0))
	}
	return trips, nil
}

// tripTo is the shortest drive to one yard and back that any rig in use can
// make: before the visit nobody knows which one comes.
func (b Biller) tripTo(ctx context.Context, yard booking.Yard) (best Trip, err error) {
	business, err1 := b.Trade.Business(ctx)
	rigs, err2 := b.Trade.Rigs(ctx)
	if err := errors.Join(err1, err2); err != nil {
		return best, err
	}
	yard.ID = "yard" // it may be new and without one
	for _, rig := range sizes(rigs) {
		trips, err := b.tripsOf(ctx, business, rig, []booking.Yard{yard})
		if err != nil {
			return best, err
		}
		if t := trips[yard.ID]; t.Known && (!best.Known || t.Metres < best.Metres) {
			best = t
		}
	}
	return best, nil
}

// sizes are the rigs in use as they travel; one of no size where there is none.
func sizes(rigs []booking.Rig) []routing.Rig {
	var all []routing.Rig
	for _, r := range rigs {
		if r.Active {
			all = append(all, r.OnTheRoad())
		}
	}
	if len(all) == 0 {
		return []routing.Rig{{}}
	}
	return all
}

func thereAndBack(there, back routing.Leg) Trip {
	return Trip{
		Metres: int64(there.Metres) + int64(back.Metres),
		Known:  there.Reachable && back.Reachable, Estimate: there.Estimate || back.Estimate,
	}
}
