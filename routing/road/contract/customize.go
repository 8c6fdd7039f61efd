package contract

import "slices"

// Metric is a hierarchy with costs: only the shortcuts that can lie on a
// shortest path are left in it.
type Metric struct {
	t        *Topology
	mid      []int32 // by full arc: the lower node a shortcut goes round by, -1 for a given arc
	up, down kept
}

// kept is the part of an adjacency that survived, with costs.
type kept struct {
	adjacency
	cost []uint64
	full []int32 // position in the Topology's arcs
}

// Customize computes the costs of all shortcuts. costs[i] belongs to the i-th
// arc given to Build; Inf or more closes it.
func (t *Topology) Customize(costs []uint64) *Metric {
	c := newCustomizer(t, costs)
	for x := range t.n {
		c.lift(x)
	}
	up, down := slices.Clone(c.up), slices.Clone(c.down)
	for x := t.n - 1; x >= 0; x-- {
		c.tighten(x)
	}
	m := &Metric{t: t, mid: c.mid}
	m.up = keep(t.up, up, c.up, 0)
	m.down = keep(t.down, down, c.down, int32(len(t.up.node)))
	return m
}

type customizer struct {
	t        *Topology
	up, down []uint64
	mid      []int32
}

func newCustomizer(t *Topology, costs []uint64) *customizer {
	nu, nd := len(t.up.node), len(t.down.node)
	all := make([]uint64, nu+nd)
	mid := make([]int32, nu+nd)
	for i := range all {
		all[i], mid[i] = Inf, -1
	}
	for i, s := range t.slot {
		if s >= 0 {
			all[s] = min(all[s], costs[i])
		}
	}
	return &customizer{t: t, up: all[:nu:nu], down: all[nu:], mid: mid}
}

// lift improves the arcs between x's higher neighbours by the detour over x.
// All arcs at x are final by then, because lower nodes came first.
func (c *customizer) lift(x int32) {
	t := c.t
	for i := t.down.start[x]; i < t.down.start[x+1]; i++ {
		if u, d := t.down.node[i], c.down[i]; d < Inf {
			relax(t.up, c.up, c.mid, u, t.up.of(x), c.up[t.up.start[x]:], d, x)
		}
	}
	below := c.mid[len(c.up):]
	for i := t.up.start[x]; i < t.up.start[x+1]; i++ {
		if w, d := t.up.node[i], c.up[i]; d < Inf {
			relax(t.down, c.down, below, w, t.down.of(x), c.down[t.down.start[x]:], d, x)
		}
	}
}

// relax improves the arcs of a between `at` and each of others that is higher,
// by base + cost, going over x. Both lists are sorted and the fill-in
// has every such arc, so one pass is enough.
func relax(a adjacency, arc []uint64, mid []int32, at int32, others []int32, cost []uint64, base uint64, x int32) {
	k := a.start[at]
	for j, y := range others {
		if y <= at {
			continue
		}
		for a.node[k] < y {
			k++
		}
		if sum := base + cost[j]; sum < arc[k] {
			arc[k], mid[k] = sum, x
		}
	}
}

// tighten lowers the arcs at x by detours over two higher nodes, whose arcs
// are final because higher nodes came first.
func (c *customizer) tighten(x int32) {
	t := c.t
	up, down := t.up.start[x], t.down.start[x]
	detour(t.up.of(x), c.up[up:], t.up, c.up, t.down, c.down)
	detour(t.down.of(x), c.down[down:], t.down, c.down, t.up, c.up)
}

// detour looks at each pair u < w of one node's higher neighbours: w may be
// cheaper over u, along arc (u,w) of ahead, and u over w, along (u,w) of back.
func detour(nodes []int32, cost []uint64, ahead adjacency, aheadCost []uint64, back adjacency, backCost []uint64) {
	for i, u := range nodes {
		a, aEnd := ahead.start[u], ahead.start[u+1]
		b, bEnd := back.start[u], back.start[u+1]
		for j := i + 1; j < len(nodes); j++ {
			w := nodes[j]
			for a < aEnd && ahead.node[a] < w {
				a++
			}
			for b < bEnd && back.node[b] < w {
				b++
			}
			if a < aEnd && ahead.node[a] == w {
				cost[j] = min(cost[j], cost[i]+aheadCost[a])
			}
			if b < bEnd && back.node[b] == w {
				cost[i] = min(cost[i], cost[j]+backCost[b])
			}
		}
	}
}

// keep drops the arcs that nothing needs: closed ones and those a detour beat
// outright. Ties stay, so that zero-cost arcs cannot rule each other out.
func keep(a adjacency, before, after []uint64, offset int32) kept {
	needed := 0
	for i := range before {
		if before[i] < Inf && before[i] == after[i] {
			needed++
		}
	}
	k := kept{
		adjacency: adjacency{start: make([]int32, len(a.start)), node: make([]int32, 0, needed)},
		cost:      make([]uint64, 0, needed),
		full:      make([]int32, 0, needed),
	}
	for x := range len(a.start) - 1 {
		for i := a.start[x]; i < a.start[x+1]; i++ {
			if before[i] < Inf && before[i] == after[i] {
				k.node = append(k.node, a.node[i])
				k.cost = append(k.cost, before[i])
				k.full = append(k.full, offset+i)
			}
		}
		k.start[x+1] = int32(len(k.node))
	}
	return k
}
