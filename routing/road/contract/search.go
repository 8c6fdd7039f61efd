package contract

import "slices"

// Label is a node and what it costs to get there from the start of a search,
// or from there to its end.
type Label struct {
	Node int32
	Cost uint64
}

// Search is scratch space for one goroutine. It fits every Metric of the
// Topology it was made for.
type Search struct {
	out, in side
	labels  []Label
}

// side is one direction of a search.
type side struct {
	dist    []uint64 // Inf where the search has not been
	from    []int32  // kept arc that gave dist, -1 for a seed; only where traced
	touched []int32  // ancestors of the seeds, ascending
	mark    []bool
}

// NewSearch makes scratch space.
func (t *Topology) NewSearch() *Search {
	return &Search{out: newSide(t.Nodes()), in: newSide(t.Nodes())}
}

func newSide(n int) side {
	s := side{dist: make([]uint64, n), from: make([]int32, n), mark: make([]bool, n)}
	for i := range s.dist {
		s.dist[i] = Inf
	}
	return s
}

// start forgets the last search and plants the seeds.
func (s *side) start(parent []int32, seeds []Label) {
	for _, x := range s.touched {
		s.dist[x], s.mark[x] = Inf, false
	}
	s.touched = s.touched[:0]
	for _, seed := range seeds {
		for x := seed.Node; x >= 0 && !s.mark[x]; x = parent[x] {
			s.mark[x] = true
			s.touched = append(s.touched, x)
		}
		if seed.Cost < s.dist[seed.Node] {
			s.dist[seed.Node], s.from[seed.Node] = seed.Cost, -1
		}
	}
	slices.Sort(s.touched)
}

// climb carries the costs up the hierarchy.
func (s *side) climb(k *kept) {
	for _, x := range s.touched {
		d := s.dist[x]
		if d >= Inf {
			continue
		}
		for i := k.start[x]; i < k.start[x+1]; i++ {
			if y, sum := k.node[i], d+k.cost[i]; sum < s.dist[y] {
				s.dist[y], s.from[y] = sum, i
			}
		}
	}
}

// settle goes back down along the other side's arcs and lists the nodes whose
// way up was a shortest one; the others are never where a shortest path turns.
func (s *side) settle(k *kept, out []Label) []Label {
	for i := len(s.touched) - 1; i >= 0; i-- {
		x := s.touched[i]
		best := s.dist[x]
		for j := k.start[x]; j < k.start[x+1]; j++ {
			best = min(best, s.dist[k.node[j]]+k.cost[j])
		}
		switch {
		case best < s.dist[x]:
			s.dist[x] = best
		case best < Inf:
			out = append(out, Label{x, best})
		}
	}
	return out
}

// Forward gives the labels of a search from the seeds, the ones that can lie
// at the top of a shortest path. The slice is valid until the Search is used
// again.
func (m *Metric) Forward(s *Search, seeds []Label) []Label {
	s.out.start(m.t.parent, seeds)
	s.out.climb(&m.up)
	s.labels = s.out.settle(&m.down, s.labels[:0])
	return s.labels
}

// Backward is Forward for a search that runs against the arcs, to the seeds.
func (m *Metric) Backward(s *Search, seeds []Label) []Label {
	s.in.start(m.t.parent, seeds)
	s.in.climb(&m.down)
	s.labels = s.in.settle(&m.up, s.labels[:0])
	return s.labels
}

// meet finds the node where the two searches join at the least cost.
func (m *Metric) meet(s *Search, from, to []Label) (int32, uint64) {
	s.out.start(m.t.parent, from)
	s.out.climb(&m.up)
	s.in.start(m.t.parent, to)
	s.in.climb(&m.down)
	at, best := int32(-1), Inf
	for _, x := range s.out.touched {
		if sum := s.out.dist[x] + s.in.dist[x]; sum < best {
			at, best = x, sum
		}
	}
	return at, best
}

// Cost is the least cost from any seed in from to any seed in to, their own
// costs included, or Inf.
func (m *Metric) Cost(s *Search, from, to []Label) uint64 {
	_, cost := m.meet(s, from, to)
	return cost
}
