package road

import (
	"context"
	"math"
	"slices"

	"drawbar/booking/fault"
	"drawbar/routing"
	"drawbar/routing/road/contract"
	"drawbar/routing/road/drive"
)

// VehicleOf is what a rig drives as on a map.
func VehicleOf(rig routing.Rig, p routing.Profile) drive.Vehicle {
	s := rig.Of(p)
	return drive.Vehicle{Towing: p != routing.Solo, Kg: s.Kg, Length: s.Length, Width: s.Width, Height: s.Height}
}

// Router drives one rig on a map.
type Router struct {
	m   *Map
	rig routing.Rig
}

var (
	_ routing.Roads  = (*Map)(nil)
	_ routing.Router = (*Router)(nil)
)

// For makes the router of a rig.
func (m *Map) For(rig routing.Rig) routing.Router { return &Router{m, rig} }

// WhyNot is Map.WhyNot for places.
func (r *Router) WhyNot(p routing.Profile, from, to routing.Place) string {
	a, b := r.m.Snap(from.At), r.m.Snap(to.At)
	return r.m.WhyNot(&a, &b, VehicleOf(r.rig, p))
}

// Table gives the leg from every place to every other. Where the map cannot
// tell, because a place is far from any road or its road is not joined to the
// others, the leg is an estimate and says so. Where the map can tell that this
// rig cannot get there, it is not reachable.
func (r *Router) Table(ctx context.Context, places []routing.Place, p routing.Profile) (*routing.Table, error) {
	key := tableKey(r.m.metricKey(VehicleOf(r.rig, p)), places)
	if t, ok := r.m.tables.get(key); ok {
		return t, nil
	}
	t, err := r.table(ctx, places, p)
	if err == nil {
		r.m.tables.put(key, t)
	}
	return t, err
}

func (r *Router) table(ctx context.Context, places []routing.Place, p routing.Profile) (*routing.Table, error) {
	sites := make([]Site, len(places))
	for i, place := range places {
		if !onEarth(place.At) {
			return nil, fault.Newf(fault.Invalid, "Place %s has no position on Earth: %v.", place.ID, place.At)
		}
		sites[i] = r.m.Snap(place.At)
	}
	costs, err := r.m.Costs(ctx, sites, VehicleOf(r.rig, p))
	if err != nil {
		return nil, err
	}
	n := len(places)
	legs := make([]routing.Leg, n*n)
	for i, c := range costs {
		from, to := &sites[i/n], &sites[i%n]
		switch {
		case c < drive.Inf:
			legs[i] = LegOf(c)
		case r.m.unknown(from, to):
			legs[i] = routing.Estimate(from.Place, to.Place, p)
		}
	}
	return routing.NewTable(slices.Clone(places), legs)
}

// LegOf rounds a cost to whole seconds and metres.
// LegOf is a cost in whole seconds and metres.
func LegOf(c drive.Cost) routing.Leg {
	return routing.Leg{
		Seconds:   int32(math.Round(float64(drive.Millis(c)) / 1000)),
		Metres:    int32(math.Round(float64(drive.Decimetres(c)) / 10)),
		Reachable: true,
	}
}

// Costs is the table behind Table, exact, row by row: the cost from site i to
// site j is at i*len(sites)+j, drive.Inf where there is no way.
func (m *Map) Costs(ctx context.Context, sites []Site, v drive.Vehicle) ([]drive.Cost, error) {
	x, s := m.metric(v), m.scratch.Get().(*scratch)
	defer m.scratch.Put(s)
	targets := make([][]contract.Label, len(sites))
	for j := range sites {
		m.arrive(x, &sites[j], &s.in)
		targets[j] = s.in.labels(m, nil)
	}
	buckets := x.h.Gather(s.search, targets)
	onEdge := sameEdge(sites)
	n := len(sites)
	costs := make([]drive.Cost, n*n)
	for i := range sites {
		if i&63 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		row := costs[i*n : (i+1)*n]
		m.leave(x, &sites[i], &s.out)
		s.from = s.out.labels(m, s.from[:0])
		buckets.Row(s.search, s.from, row)
		for _, j := range onEdge[sites[i].Edge] {
			c, _ := m.direct(x, &sites[i], &sites[j])
			row[j] = min(row[j], c)
		}
	}
	return costs, nil
}

// sameEdge lists the sites on each edge.
func sameEdge(sites []Site) map[int32][]int {
	on := map[int32][]int{}
	for i := range sites {
		if sites[i].Found {
			on[sites[i].Edge] = append(on[sites[i].Edge], i)
		}
	}
	return on
}
