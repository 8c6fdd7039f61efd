package road

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"drawbar/booking/fault"
	"drawbar/routing"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
)

// Path is a drive as it is driven.
type Path struct {
	routing.Leg
	Line     orb.LineString // from place to place, ground between yard and road included
	Steps    []Step
	Cautions []Caution
}

// Step is a stretch of one road.
type Step struct {
	Road    string // name or number, "" without one
	Metres  int32
	Seconds int32 // turns and stops onto and on it included
}

// Caution is a thing to know of at a point of a path.
type Caution struct {
	drive.Caution
	At     orb.Point
	Metres int32 // from the start of the path
	Road   string
}

// Path finds the way from one site to another. A way that does not exist is a
// fault of kind NotFound with the reason.
func (m *Map) Path(from, to *Site, v drive.Vehicle) (*Path, error) {
	t, ok := m.trip(m.metric(v), from, to)
	if !ok {
		return nil, fault.New(fault.NotFound, m.WhyNot(from, to, v))
	}
	b := &pathBuilder{m: m, t: t, v: v, path: &Path{Leg: LegOf(t.cost)}, said: map[string]int32{}, warn: map[int32][]drive.Caution{}}
	b.build()
	return b.path, nil
}

// trip is the arcs of a way; the first begins at from, the last ends at to.
type trip struct {
	x        *metric
	from, to *Site
	arcs     []int32
	turns    []drive.Cost // turns[i] leads onto arcs[i]; turns[0] is 0
	cost     drive.Cost
}

// trip finds the quickest way.
func (m *Map) trip(x *metric, from, to *Site) (*trip, bool) {
	s := m.scratch.Get().(*scratch)
	defer m.scratch.Put(s)
	m.leave(x, from, &s.out)
	m.arrive(x, to, &s.in)
	s.from, s.to = s.out.labels(m, s.from[:0]), s.in.labels(m, s.to[:0])
	nodes, cost := x.h.Path(s.search, s.from, s.to)
	t := &trip{x: x, from: from, to: to, cost: cost}
	if direct, d := m.direct(x, from, to); direct < drive.Inf && direct <= cost {
		t.cost, t.arcs, t.turns = direct, []int32{2*from.Edge + d}, []drive.Cost{0}
		return t, true
	}
	if nodes == nil {
		return nil, false
	}
	m.follow(t, m.states(s, nodes))
	return t, true
}

// states lists the states of a way: the first leg back to its site, the nodes
// of the hierarchy, the last leg.
func (m *Map) states(s *scratch, nodes []int32) []int32 {
	var states []int32
	for at := s.out.prev[m.state[nodes[0]]]; at >= 0; at = s.out.prev[at] {
		states = append(states, at)
	}
	slices.Reverse(states)
	for _, n := range nodes {
		states = append(states, m.state[n])
	}
	at := s.in.next(states[len(states)-1])
	for ; at >= 0; at = s.in.prev[at] {
		states = append(states, at)
	}
	return append(states, ^at)
}

// follow fills in the arcs and turns of a run of states. The last is an arc.
func (m *Map) follow(t *trip, states []int32) {
	for i, s := range states {
		arc := s
		if i < len(states)-1 {
			arc = m.turns.Arc[s]
		}
		turn := drive.Cost(0)
		if i > 0 {
			turn = m.turnCost(t.x, states[i-1], arc)
		}
		t.arcs, t.turns = append(t.arcs, arc), append(t.turns, turn)
	}
}

// turnCost is the cost of the turn from a state onto an arc.
func (m *Map) turnCost(x *metric, state, arc int32) drive.Cost {
	best := drive.Inf
	for i := m.turns.Start[state]; i < m.turns.Start[state+1]; i++ {
		if m.turns.Arc[m.turns.To[i]] == arc {
			best = min(best, x.turn(m.turns.How[i]))
		}
	}
	return best
}

// pathBuilder draws a trip.
type pathBuilder struct {
	m    *Map
	t    *trip
	v    drive.Vehicle
	path *Path
	done drive.Cost                // up to the arc being drawn
	step drive.Cost                // where the step being made began
	said map[string]int32          // caution → metres at which it last held
	warn map[int32][]drive.Caution // by kind
	line []network.Point
}

func (b *pathBuilder) build() {
	b.path.Line = append(b.path.Line, b.t.from.Place)
	b.done = b.t.from.gapCost()
	for i, arc := range b.t.arcs {
		b.done += b.t.turns[i]
		b.draw(i, arc)
		b.done += b.cost(i, arc)
		b.caution(i, arc)
		if i == len(b.t.arcs)-1 {
			b.done += b.t.to.gapCost()
		}
		b.endStep(i)
	}
	b.path.Line = append(b.path.Line, b.t.to.Place)
	b.path.Line = slices.Compact(b.path.Line)
}

// span is the part of the i-th arc that is driven, in decimetres along it.
func (b *pathBuilder) span(i int, arc int32) (from, to int32) {
	to = b.m.roads.Edges[arc>>1].Length
	if i == 0 {
		from = b.m.along(b.t.from, arc&1)
	}
	if i == len(b.t.arcs)-1 {
		to = b.m.along(b.t.to, arc&1)
	}
	return from, to
}

func (b *pathBuilder) cost(i int, arc int32) drive.Cost {
	from, to := b.span(i, arc)
	if i == 0 || i == len(b.t.arcs)-1 {
		return b.m.piece(b.t.x, arc>>1, arc&1, from, to)
	}
	return b.t.x.costs.Arc[arc]
}

// draw appends the points of the i-th arc.
func (b *pathBuilder) draw(i int, arc int32) {
	from, to := b.span(i, arc)
	b.line = b.m.roads.Line(arc, b.line[:0])
	if i == 0 {
		b.path.Line = append(b.path.Line, b.t.from.At)
	}
	sum := 0.0
	for k, p := range b.line {
		if k > 0 {
			sum += network.Distance(b.line[k-1], p)
		}
		if at := int32(math.Round(sum)); at > from && at < to || at == from && i > 0 {
			b.path.Line = append(b.path.Line, toOrb(p))
		}
	}
	if i == len(b.t.arcs)-1 {
		b.path.Line = append(b.path.Line, b.t.to.At)
	}
}

// endStep ends a step where the next arc has another name.
func (b *pathBuilder) endStep(i int) {
	r := b.m.roads
	name := r.Edges[b.t.arcs[i]>>1].Name
	if i+1 < len(b.t.arcs) && r.Edges[b.t.arcs[i+1]>>1].Name == name {
		return
	}
	leg := LegOf(b.done - b.step)
	b.step = b.done
	b.path.Steps = append(b.path.Steps, Step{Road: r.Names[name], Metres: leg.Metres, Seconds: leg.Seconds})
}

// again is after how many metres without it a caution is given anew.
const again = 500

// caution notes what is new on the i-th arc: what held shortly before is said
// already. It comes when b.done is at the end of the arc.
func (b *pathBuilder) caution(i int, arc int32) {
	r := b.m.roads
	e := &r.Edges[arc>>1]
	end := LegOf(b.done).Metres
	start := LegOf(b.done - b.cost(i, arc)).Metres
	cautions, known := b.warn[e.Kind]
	if !known {
		cautions = b.v.Cautions(&r.Kinds[e.Kind])
		b.warn[e.Kind] = cautions
	}
	for _, c := range cautions {
		last, before := b.said[c.Sentence]
		b.said[c.Sentence] = end
		if !before || start-last > again {
			b.path.Cautions = append(b.path.Cautions, Caution{c, toOrb(r.Vertices[r.Tail(arc)]), start, r.Names[e.Name]})
		}
	}
}
