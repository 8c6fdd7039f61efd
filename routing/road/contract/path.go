package contract

import "slices"

// Path is Cost with the nodes on the way: first a seed of from, last a seed of
// to. It is nil when there is no way.
func (m *Metric) Path(s *Search, from, to []Label) ([]int32, uint64) {
	at, cost := m.meet(s, from, to)
	if at < 0 {
		return nil, Inf
	}
	ups, first := s.out.trace(&m.up, at)
	downs, _ := s.in.trace(&m.down, at)
	nodes := []int32{first}
	for _, arc := range slices.Backward(ups) {
		nodes = m.unpack(arc, nodes)
	}
	for _, arc := range downs {
		nodes = m.unpack(arc, nodes)
	}
	return nodes, cost
}

// trace walks from the top of a search down to its seed and lists the full
// arcs on the way.
func (s *side) trace(k *kept, x int32) (arcs []int32, seed int32) {
	for s.from[x] >= 0 {
		i := s.from[x]
		arcs = append(arcs, k.full[i])
		x = k.owner(i)
	}
	return arcs, x
}

// owner is the lower end of the arc at position i.
func (a adjacency) owner(i int32) int32 {
	x, found := slices.BinarySearch(a.start, i)
	if !found {
		return int32(x) - 1
	}
	for a.start[x+1] == i { // nodes without arcs share the start of the next
		x++
	}
	return int32(x)
}

// unpack appends the nodes a full arc goes over, its first node left out.
func (m *Metric) unpack(arc int32, nodes []int32) []int32 {
	from, to := nodes[len(nodes)-1], m.head(arc)
	x := m.mid[arc]
	if x < 0 {
		return append(nodes, to)
	}
	nodes = m.unpack(int32(len(m.t.up.node))+m.t.down.find(x, from), nodes)
	return m.unpack(m.t.up.find(x, to), nodes)
}

// head is where a full arc leads.
func (m *Metric) head(arc int32) int32 {
	ups := int32(len(m.t.up.node))
	if arc < ups {
		return m.t.up.node[arc]
	}
	return m.t.down.owner(arc - ups)
}
