package road

import (
	"fmt"
	"strings"

	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
)

// unknown tells whether it is the map, and not the rig, that has no answer
// between two sites: one is far from any road, or not even a car alone of no
// size gets from one to the other.
func (m *Map) unknown(from, to *Site) bool {
	if !from.Found || !to.Found {
		return true
	}
	return m.cost(m.metric(drive.Vehicle{}), from, to) >= drive.Inf
}

// joined tells whether one gets from a site to the through network and back.
func (m *Map) joined(s *Site) bool {
	f := m.roads.Edges[s.Edge].Flags
	return f&network.Leaves != 0 && f&network.Arrives != 0
}

// cost is the cost of one pair.
func (m *Map) cost(x *metric, from, to *Site) drive.Cost {
	s := m.scratch.Get().(*scratch)
	defer m.scratch.Put(s)
	best, _ := m.direct(x, from, to)
	m.leave(x, from, &s.out)
	m.arrive(x, to, &s.in)
	s.from, s.to = s.out.labels(m, s.from[:0]), s.in.labels(m, s.to[:0])
	return min(best, x.h.Cost(s.search, s.from, s.to))
}

// Cost is the exact cost of driving from one site to another, drive.Inf when
// there is no way.
func (m *Map) Cost(from, to *Site, v drive.Vehicle) drive.Cost { return m.cost(m.metric(v), from, to) }

// WhyNot says in a sentence why a vehicle cannot drive from one site to
// another, "" when it can.
func (m *Map) WhyNot(from, to *Site, v drive.Vehicle) string {
	switch {
	case !from.Found:
		return from.Problem
	case !to.Found:
		return to.Problem
	case m.Cost(from, to, v) < drive.Inf:
		return ""
	case m.unknown(from, to) && !m.joined(from):
		return from.Problem
	case m.unknown(from, to) && !m.joined(to):
		return to.Problem
	case m.unknown(from, to):
		return "The road map shows no way between the two: an island, a one-way trap, or a piece the map cuts off."
	}
	if reasons := m.stopsOnTheWay(from, to, v); len(reasons) > 0 {
		return "Every way is closed to this train. On the shortest: " + strings.Join(reasons, "; ") + "."
	}
	return "Every way needs a turn that is not possible with the trailer on."
}

// stopsOnTheWay says what stops the vehicle on the way an unlimited one would
// take.
func (m *Map) stopsOnTheWay(from, to *Site, v drive.Vehicle) (reasons []string) {
	free := drive.Vehicle{Towing: v.Towing}
	if m.Cost(from, to, free) >= drive.Inf {
		free.Towing = false
	}
	t, ok := m.trip(m.metric(free), from, to)
	if !ok {
		return nil
	}
	seen := map[string]bool{}
	for _, arc := range t.arcs {
		e := &m.roads.Edges[arc>>1]
		why := v.Stopped(&m.roads.Kinds[e.Kind])
		if why == "" {
			continue
		}
		if name := m.roads.Names[e.Name]; name != "" {
			why = fmt.Sprintf("%s, %s", name, why)
		}
		if !seen[why] {
			seen[why] = true
			reasons = append(reasons, why)
		}
	}
	return reasons
}
