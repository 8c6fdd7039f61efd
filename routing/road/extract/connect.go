package extract

import (
	"context"
	"math"

	"drawbar/routing/road/dissect"
	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// mainland is how many arcs that can all reach each other make a network of
// their own. What is smaller (a street behind a private gate, a road the
// extract cuts off) is only good for the first and last leg.
const mainland = 400

// connect finds the through network and what hangs on it.
func (im *importer) connect(context.Context) error {
	im.report("connecting", 0, 1)
	r := im.roads
	t := network.BuildTurns(r)
	public := func(s int32) bool { return r.KindOf(t.Arc[s]).Access[t.Arc[s]&1] == tag.Through }
	part, size := t.StrongParts(public)
	least := int32(min(mainland, len(r.Edges)/2))
	for s, p := range part {
		arc := t.Arc[s]
		switch {
		case p >= 0 && size[p] >= least:
			r.Edges[arc>>1].Flags |= network.ThroughAlong << (arc & 1)
		case p >= 0 && arc&1 == 0:
			im.found.Pockets++
		}
	}
	im.mark(t, network.Arrives, t)
	im.mark(t, network.Leaves, t.Reversed())
	return nil
}

// mark flags the edges the search over g reaches from the through network
// without coming back to it.
func (im *importer) mark(t *network.Turns, flag network.EdgeFlags, g *network.Turns) {
	r := im.roads
	var queue []int32
	seen := make([]bool, t.States())
	for s := range seen {
		if r.Through(t.Arc[s]) {
			seen[s] = true
			queue = append(queue, int32(s))
		}
	}
	for i := 0; i < len(queue); i++ {
		s := queue[i]
		r.Edges[t.Arc[s]>>1].Flags |= flag
		for _, to := range g.To[g.Start[s]:g.Start[s+1]] {
			if !seen[to] {
				seen[to] = true
				queue = append(queue, to)
			}
		}
	}
}

// order finds the order of contraction of the through edges.
func (im *importer) order(ctx context.Context) error {
	im.report("ordering", 0, 1)
	r := im.roads
	var edges []dissect.Edge
	var index []int32
	for i, e := range r.Edges {
		if e.Flags&(network.ThroughAlong|network.ThroughAgainst) != 0 {
			edges, index = append(edges, dissect.Edge{A: e.From, B: e.To}), append(index, int32(i))
		}
	}
	im.found.Through = len(edges)
	for _, i := range dissect.Order(flat(r.Vertices), edges) {
		r.Order = append(r.Order, index[i])
	}
	im.report("ordering", 1, 1)
	return ctx.Err()
}

// flat projects positions so that east and north have one scale, at the middle
// latitude.
func flat(vertices []network.Point) []dissect.Point {
	var sum float64
	for _, p := range vertices {
		sum += float64(p.Lat)
	}
	shrink := math.Cos(sum / float64(len(vertices)) / 1e6 * math.Pi / 180)
	points := make([]dissect.Point, len(vertices))
	for i, p := range vertices {
		points[i] = dissect.Point{X: float64(p.Lon) * shrink, Y: float64(p.Lat)}
	}
	return points
}
