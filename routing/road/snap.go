package road

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
)

// Site is where a place meets the roads.
type Site struct {
	Place   orb.Point // as asked
	Found   bool      // whether any road is within reach
	Edge    int32
	Offset  int32     // decimetres along the edge
	At      orb.Point // on the road
	Gap     int32     // decimetres from the place to the road
	Road    string    // its name or number, "" if it has none
	Class   network.Class
	Problem string // why a person should look at it, "" when all is well
}

// Distances for snapping, common practice without a source.
const (
	reach   = 2000_0 // decimetres within which a road is looked for
	farOff  = 300_0  // beyond which a person should look at it
	gapPace = 8      // km/h over the ground between road and yard
)

// A gate seldom opens onto a big road when there is a small one, hardly ever
// onto a motorway, a slip road, a bridge or in a tunnel; and a road that is not
// joined to the rest is more often a slip of the map than the way to a yard.
// Such roads count as this many decimetres further away than they are.
var setBack = [network.Classes]float64{
	network.Motorway: 1500_0, network.Trunk: 200_0, network.Primary: 60_0, network.Secondary: 25_0,
}

const (
	apart    = 1500_0
	unjoined = 250_0
)

// Snap finds the road a place is reached from: near, of a sort that has gates
// along it, and joined to the rest. What speaks against the best there is, is
// in Problem.
func (m *Map) Snap(at orb.Point) Site {
	s := &snapper{m: m, p: toPoint(at), best: math.Inf(1), site: Site{Place: at}}
	if onEarth(at) {
		s.search()
	}
	s.site.Problem = s.problem()
	return s.site
}

type snapper struct {
	m    *Map
	p    network.Point
	best float64 // decimetres, with what the road counts as behind
	site Site
	line []network.Point
	near []int32
}

// search looks at ever wider rings until nothing better can come.
func (s *snapper) search() {
	side := float64(s.m.grid.cell) * 1e-6 * math.Pi / 180 * 63710088 // decimetres north to south
	side *= math.Min(1, math.Cos(float64(s.p.Lat)*1e-6*math.Pi/180))
	if side <= 1 {
		return // at the poles
	}
	for k := 0; float64(k-1)*side < math.Min(s.best, reach); k++ {
		s.near = s.m.grid.ring(s.p, k, s.near[:0])
		for _, e := range s.near {
			s.try(e)
		}
	}
}

// behind is how much further away than it is an edge counts; endless where
// nobody stops.
func (s *snapper) behind(edge int32) float64 {
	r := s.m.roads
	e := &r.Edges[edge]
	k := &r.Kinds[e.Kind]
	if k.Class == network.Ferry || !r.Open(2*edge) && !r.Open(2*edge+1) {
		return math.Inf(1)
	}
	far := setBack[k.Class]
	if k.Features&(network.Tunnel|network.Bridge|network.Link) != 0 {
		far += apart
	}
	if e.Flags&network.Leaves == 0 || e.Flags&network.Arrives == 0 {
		far += unjoined
	}
	return far
}

// try measures the distance to an edge.
func (s *snapper) try(edge int32) {
	r := s.m.roads
	e := &r.Edges[edge]
	s.line = r.Line(2*edge, s.line[:0])
	gap, along, at := nearest(s.line, s.p)
	far := gap + s.behind(edge)
	if gap > reach || far >= s.best {
		return
	}
	s.best = far
	s.site.Found, s.site.Edge, s.site.At, s.site.Gap = true, edge, toOrb(at), int32(math.Round(gap))
	s.site.Offset = min(e.Length, int32(math.Round(along)))
	s.site.Road, s.site.Class = r.Names[e.Name], r.Kinds[e.Kind].Class
}

func (s *snapper) problem() string {
	if !s.site.Found {
		return fmt.Sprintf("No road for cars within %.0f km of this place in the road map.", reach/1e4)
	}
	flags := s.m.roads.Edges[s.site.Edge].Flags
	switch {
	case flags&network.Leaves == 0 && flags&network.Arrives == 0:
		return "The nearest road is not joined to the others in the road map: an island, or a piece the map cuts off."
	case flags&network.Leaves == 0:
		return "The road map shows a way in to the nearest road but none out."
	case flags&network.Arrives == 0:
		return "The road map shows a way out of the nearest road but none in."
	case s.site.Gap > farOff:
		return fmt.Sprintf("The nearest road is %.0f m away. Move the mark to the gate.", float64(s.site.Gap)/10)
	}
	return ""
}

// gapCost is what the ground between road and yard costs.
func (s *Site) gapCost() drive.Cost {
	return drive.Pack(int64(s.Gap)*360/gapPace, int64(s.Gap))
}

// onEarth is false for what is no position, NaN included.
func onEarth(p orb.Point) bool {
	return math.Abs(p.Lat()) <= 90 && math.Abs(p.Lon()) <= 180
}

func toPoint(p orb.Point) network.Point {
	return network.Point{Lat: int32(math.Round(p.Lat() * 1e6)), Lon: int32(math.Round(p.Lon() * 1e6))}
}

func toOrb(p network.Point) orb.Point {
	return orb.Point{float64(p.Lon) / 1e6, float64(p.Lat) / 1e6}
}

// nearest is the point of a line closest to p: how far it is, how far along
// the line, both in decimetres.
func nearest(line []network.Point, p network.Point) (gap, along float64, at network.Point) {
	gap = math.Inf(1)
	sum := 0.0
	for i := 1; i < len(line); i++ {
		q := closest(line[i-1], line[i], p)
		if d := network.Distance(q, p); d < gap {
			gap, along, at = d, sum+network.Distance(line[i-1], q), q
		}
		sum += network.Distance(line[i-1], line[i])
	}
	return gap, along, at
}

// closest is the point of segment ab closest to p, on a flat map scaled at p.
func closest(a, b, p network.Point) network.Point {
	shrink := math.Cos(float64(p.Lat) * 1e-6 * math.Pi / 180)
	dx, dy := float64(b.Lon-a.Lon)*shrink, float64(b.Lat-a.Lat)
	px, py := float64(p.Lon-a.Lon)*shrink, float64(p.Lat-a.Lat)
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = max(0, min(1, (px*dx+py*dy)/l))
	}
	return network.Point{Lat: a.Lat + int32(math.Round(t*dy)), Lon: a.Lon + int32(math.Round(t*float64(b.Lon-a.Lon)))}
}
