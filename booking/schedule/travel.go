package schedule

import (
	"context"
	"slices"

	"drawbar/booking"
	"drawbar/routing"
)

// travel is the drives between home and all yards, for each rig by its size.
type travel struct {
	roads routing.Roads
	rigs  map[booking.ID]drives
	any   drives // for whoever is no rig in use
}

// drives are the tables of one rig, with the rig on and without it.
type drives struct{ towing, solo *routing.Table }

func (d drives) of(solo bool) *routing.Table {
	if solo {
		return d.solo
	}
	return d.towing
}

// drives of a rig.
func (w *world) drives(rig booking.ID) drives {
	if d, ok := w.travel.rigs[rig]; ok {
		return d
	}
	return w.travel.any
}

// loadTravel makes the tables of all rigs. Rigs that fit on the same roads
// share theirs.
func (p *Planner) loadTravel(ctx context.Context, w *world) (err error) {
	yards := make([]booking.Yard, 0, len(w.yards))
	for _, y := range w.yards {
		yards = append(yards, y)
	}
	slices.SortFunc(yards, func(a, b booking.Yard) int { return compare(a.ID, b.ID) })
	at := places(w.business, yards)
	w.travel = travel{roads: p.Roads, rigs: map[booking.ID]drives{}}
	for i, rig := range w.rigs {
		d, err := p.drives(ctx, at, rig.OnTheRoad())
		if err != nil {
			return err
		}
		w.travel.rigs[rig.ID] = d
		if i == 0 {
			w.travel.any = d
		}
	}
	if len(w.rigs) == 0 {
		w.travel.any, err = p.drives(ctx, at, routing.Rig{})
	}
	return err
}

func (p *Planner) drives(ctx context.Context, at []routing.Place, rig routing.Rig) (d drives, err error) {
	router := p.Roads.For(rig)
	if d.towing, err = router.Table(ctx, at, routing.Towing); err != nil {
		return d, err
	}
	d.solo, err = router.Table(ctx, at, routing.Solo)
	return d, err
}

// noWay says why a rig cannot be driven to a yard and back; "" when it can.
func (w *world) noWay(rig booking.Rig, yard booking.Yard) string {
	t := w.drives(rig.ID).towing
	for _, way := range [][2]string{{homeID, string(yard.ID)}, {string(yard.ID), homeID}} {
		if leg(t, way[0], way[1]).Reachable {
			continue
		}
		if why := w.travel.roads.For(rig.OnTheRoad()).WhyNot(routing.Towing, w.place(way[0]), w.place(way[1])); why != "" {
			return why
		}
		return "There is no way to drive to this yard with the rig on; look at its position."
	}
	return ""
}

// place of an id of the travel tables.
func (w *world) place(id string) routing.Place {
	if id == homeID {
		return routing.Place{ID: id, At: w.business.Home}
	}
	return routing.Place{ID: id, At: w.yards[booking.ID(id)].At}
}
