package dissect

// peeling takes away what needs no cut: loops, then dead ends from their tips
// inwards, then all but one edge of every chain of two-armed vertices.
type peeling struct {
	edges []Edge
	arms  [][]int32 // edges at each vertex that are still there
	gone  []bool
	first []int32 // peeled edges in the order they are to be contracted
}

// subgraph is what is left, with the index each edge had.
type subgraph struct {
	edges []Edge
	index []int32
}

func peel(vertices int, edges []Edge) *peeling {
	p := &peeling{edges: append([]Edge(nil), edges...), arms: make([][]int32, vertices), gone: make([]bool, len(edges))}
	for i, e := range edges {
		if e.A == e.B {
			p.take(int32(i))
			continue
		}
		p.arms[e.A] = append(p.arms[e.A], int32(i))
		p.arms[e.B] = append(p.arms[e.B], int32(i))
	}
	for v := range p.arms {
		p.deadEnd(int32(v))
	}
	for v := range p.arms {
		p.chain(int32(v))
	}
	return p
}

func (p *peeling) take(edge int32) {
	p.gone[edge] = true
	p.first = append(p.first, edge)
}

// deadEnd takes the only edge at v, then looks at the other end.
func (p *peeling) deadEnd(v int32) {
	for len(p.arms[v]) == 1 {
		e := p.arms[v][0]
		p.arms[v] = nil
		p.take(e)
		v = p.other(e, v)
		p.detach(v, e)
	}
}

// chain joins the two edges at v into one, unless that would make a loop.
func (p *peeling) chain(v int32) {
	if len(p.arms[v]) != 2 {
		return
	}
	keep, drop := p.arms[v][0], p.arms[v][1]
	a, b := p.other(keep, v), p.other(drop, v)
	if a == b {
		return
	}
	p.arms[v] = nil
	p.take(drop)
	p.detach(b, drop)
	p.arms[b] = append(p.arms[b], keep)
	p.edges[keep] = Edge{a, b}
}

func (p *peeling) other(edge, v int32) int32 {
	if e := p.edges[edge]; e.A == v {
		return e.B
	}
	return p.edges[edge].A
}

func (p *peeling) detach(v, edge int32) {
	arms := p.arms[v]
	for i, e := range arms {
		if e == edge {
			arms[i] = arms[len(arms)-1]
			p.arms[v] = arms[:len(arms)-1]
			return
		}
	}
}

func (p *peeling) core() subgraph {
	var s subgraph
	for i, e := range p.edges {
		if !p.gone[i] {
			s.edges, s.index = append(s.edges, e), append(s.index, int32(i))
		}
	}
	return s
}
