package road

import (
	"github.com/paulmach/orb"

	"drawbar/routing/road/network"
)

// Within calls visit once for every edge that may touch a box. Edges of no
// length are left out.
func (m *Map) Within(box orb.Bound, visit func(edge int32)) {
	g := m.grid
	x0, y0 := g.at(toPoint(box.Min))
	x1, y1 := g.at(toPoint(box.Max))
	seen := map[int32]bool{}
	for y := max(0, y0); y <= min(g.height-1, y1); y++ {
		for x := max(0, x0); x <= min(g.width-1, x1); x++ {
			c := y*g.width + x
			for _, e := range g.edge[g.start[c]:g.start[c+1]] {
				if !seen[e] {
					seen[e] = true
					visit(e)
				}
			}
		}
	}
}

// Bound is the box around all roads.
func (m *Map) Bound() orb.Bound {
	g := m.grid
	return orb.Bound{
		Min: toOrb(network.Point{Lat: g.south, Lon: g.west}),
		Max: toOrb(network.Point{Lat: g.north, Lon: g.east}),
	}
}
