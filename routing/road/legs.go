package road

import (
	"drawbar/routing/road/contract"
	"drawbar/routing/road/drive"
)

// scratch is what one goroutine needs to search.
type scratch struct {
	search   *contract.Search
	out, in  legSearch
	from, to []contract.Label
}

func newScratch(m *Map) *scratch {
	n := m.turns.States()
	return &scratch{search: m.topology.NewSearch(), out: newLegSearch(n), in: newLegSearch(n)}
}

// legSearch is a search over the first or the last leg of journeys: the roads
// that are not for driving through, as far as the through network.
type legSearch struct {
	dist    []drive.Cost
	prev    []int32 // state before (outwards) or after (inwards); at the site -1 or ^arc
	touched []int32
	queue   heap
	ends    []ending
}

// ending is a way onto a site's own arc, where that is a through one: nothing
// leads on from it against the turns but the through network itself.
type ending struct {
	state int32 // it is entered from
	arc   int32
	cost  drive.Cost
}

func newLegSearch(n int) legSearch {
	l := legSearch{dist: make([]drive.Cost, n), prev: make([]int32, n)}
	for i := range l.dist {
		l.dist[i] = drive.Inf
	}
	return l
}

func (l *legSearch) clear() {
	for _, s := range l.touched {
		l.dist[s] = drive.Inf
	}
	l.touched, l.queue, l.ends = l.touched[:0], l.queue[:0], l.ends[:0]
}

// offer proposes a way to a state. States that are not to be left are kept but
// not queued.
func (l *legSearch) offer(state, prev int32, cost drive.Cost, goOn bool) {
	if cost >= drive.Inf || cost >= l.dist[state] {
		return
	}
	if l.dist[state] == drive.Inf {
		l.touched = append(l.touched, state)
	}
	l.dist[state], l.prev[state] = cost, prev
	if goOn {
		l.queue.push(entry{cost, state})
	}
}

// labels lists what was reached, as nodes of the hierarchy.
func (l *legSearch) labels(m *Map, list []contract.Label) []contract.Label {
	for _, s := range l.touched {
		list = append(list, contract.Label{Node: m.node[s], Cost: l.dist[s]})
	}
	for _, e := range l.ends {
		list = append(list, contract.Label{Node: m.node[e.state], Cost: e.cost})
	}
	return list
}

// leave searches outwards from a site. Costs are at the end of a state's arc.
func (m *Map) leave(x *metric, site *Site, l *legSearch) {
	l.clear()
	if !site.Found {
		return
	}
	for d := range int32(2) {
		arc := 2*site.Edge + d
		if x.costs.Arc[arc] < drive.Inf {
			l.offer(arc, -1, site.gapCost()+m.rest(x, site, d), !m.through(arc))
		}
	}
	for len(l.queue) > 0 {
		e := l.queue.pop()
		if e.cost > l.dist[e.state] {
			continue
		}
		for i := m.turns.Start[e.state]; i < m.turns.Start[e.state+1]; i++ {
			to := m.turns.To[i]
			l.offer(to, e.state, e.cost+m.step(x, i), !m.through(to))
		}
	}
}

// arrive searches inwards to a site, against the turns. Costs count from the
// end of a state's arc.
func (m *Map) arrive(x *metric, site *Site, l *legSearch) {
	l.clear()
	if !site.Found {
		return
	}
	for d := range int32(2) {
		arc := 2*site.Edge + d
		if x.costs.Arc[arc] == drive.Inf {
			continue
		}
		cost := site.gapCost() + m.part(x, site, d)
		m.enter(x, l, arc, ^arc, cost)
		for _, s := range m.copies[arc] {
			m.enter(x, l, s, ^arc, cost)
		}
	}
	for len(l.queue) > 0 {
		e := l.queue.pop()
		if e.cost == l.dist[e.state] {
			m.enter(x, l, e.state, e.state, e.cost+x.costs.Arc[m.turns.Arc[e.state]])
		}
	}
}

// enter offers the states from which a state can be turned into, at the given
// cost from its beginning. On from them goes only a last leg, and only over
// roads of its sort.
func (m *Map) enter(x *metric, l *legSearch, state, next int32, cost drive.Cost) {
	for i := m.back.Start[state]; i < m.back.Start[state+1]; i++ {
		before := m.back.To[i]
		sum := cost + x.turn(m.back.How[i])
		switch {
		case sum >= drive.Inf || x.costs.Arc[m.turns.Arc[before]] >= drive.Inf:
		case m.through(state):
			l.ends = append(l.ends, ending{before, ^next, sum})
		default:
			l.offer(before, next, sum, !m.through(before))
		}
	}
}

// next is the state or, inverted, the site's arc that follows a state on the
// quickest way in.
func (l *legSearch) next(state int32) int32 {
	best, next := l.dist[state], l.prev[state]
	for _, e := range l.ends {
		if e.state == state && e.cost < best {
			best, next = e.cost, ^e.arc
		}
	}
	return next
}

// rest is the cost from a site to the end of its arc in direction d, part that
// from the beginning of the arc to the site.
func (m *Map) rest(x *metric, site *Site, d int32) drive.Cost {
	return m.piece(x, site.Edge, d, m.along(site, d), m.roads.Edges[site.Edge].Length)
}

func (m *Map) part(x *metric, site *Site, d int32) drive.Cost {
	return m.piece(x, site.Edge, d, 0, m.along(site, d))
}

// along is how far along an arc a site lies, in decimetres.
func (m *Map) along(site *Site, d int32) int32 {
	if d == 0 {
		return site.Offset
	}
	return m.roads.Edges[site.Edge].Length - site.Offset
}

// piece is the cost of an arc between two points on it.
func (m *Map) piece(x *metric, edge, d, from, to int32) drive.Cost {
	return drive.Part(x.costs.Arc[2*edge+d], int64(to-from), int64(m.roads.Edges[edge].Length))
}

// direct is the cost between two sites on one edge without leaving it, and
// the direction driven.
func (m *Map) direct(x *metric, from, to *Site) (best drive.Cost, direction int32) {
	best = drive.Inf
	if !from.Found || !to.Found || from.Edge != to.Edge {
		return best, 0
	}
	for d := range int32(2) {
		a, b := m.along(from, d), m.along(to, d)
		if b < a || x.costs.Arc[2*from.Edge+d] == drive.Inf {
			continue
		}
		if c := from.gapCost() + m.piece(x, from.Edge, d, a, b) + to.gapCost(); c < best {
			best, direction = c, d
		}
	}
	return best, direction
}
