package evolve

import "math/rand/v2"

// cross makes a child of two plans: the routes around a random visit come from
// the mother, in the places of the father's routes that they replace best; the
// rest stays the father's. What is then nowhere is left out.
func (w *world) cross(father, mother *plan, rng *rand.Rand) *plan {
	used := usedRoutes(father)
	count := 1 + rng.IntN(max(1, len(used)*2/3))
	seed := rng.IntN(w.n)
	gone := w.around(father, seed, count)
	come := w.overlapping(father, mother, gone, count)
	child := &plan{routes: make([][]int32, len(father.routes))}
	taken := make([]bool, w.n)
	for i, seq := range father.routes {
		if !gone[i] {
			child.routes[i] = append([]int32(nil), seq...)
			mark(taken, seq)
		}
	}
	w.graft(child, mother, gone, come, taken)
	return child
}

func usedRoutes(p *plan) []int {
	var out []int
	for i, seq := range p.routes {
		if len(seq) > 0 {
			out = append(out, i)
		}
	}
	return out
}

func mark(taken []bool, seq []int32) {
	for _, v := range seq {
		taken[v] = true
	}
}

// around picks routes of the visits nearest to a seed.
func (w *world) around(p *plan, seed, count int) map[int]bool {
	on := p.routeOf(w.n)
	gone := map[int]bool{}
	take := func(v int32) {
		if on[v] >= 0 && len(gone) < count {
			gone[on[v]] = true
		}
	}
	take(int32(seed))
	for _, v := range w.near[seed] {
		take(v)
	}
	return gone
}

func (p *plan) routeOf(n int) []int {
	on := make([]int, n)
	for v := range on {
		on[v] = -1
	}
	for i, seq := range p.routes {
		for _, v := range seq {
			on[v] = i
		}
	}
	return on
}

// overlapping picks the mother's routes that share most with what is gone.
func (w *world) overlapping(father, mother *plan, gone map[int]bool, count int) []int {
	lost := make([]bool, w.n)
	for i := range father.routes {
		if gone[i] {
			mark(lost, father.routes[i])
		}
	}
	var out []int
	chosen := make([]bool, len(mother.routes))
	for len(out) < count {
		best, most := -1, 0
		for i, seq := range mother.routes {
			shared := 0
			for _, v := range seq {
				if lost[v] {
					shared++
				}
			}
			if !chosen[i] && shared > most {
				best, most = i, shared
			}
		}
		if best < 0 {
			break
		}
		chosen[best] = true
		out = append(out, best)
	}
	return out
}

// graft puts the mother's routes into the places that came free: her own if it
// is one of them, else one of the same kind; what fits nowhere is left out.
func (w *world) graft(child, mother *plan, gone map[int]bool, come []int, taken []bool) {
	for _, i := range come {
		at := w.placeFor(child, gone, i)
		if at < 0 {
			continue
		}
		gone[at] = false
		seq := []int32{}
		for _, v := range mother.routes[i] {
			if !taken[v] {
				seq = append(seq, v)
				taken[v] = true
			}
		}
		child.routes[at] = seq
	}
}

func (w *world) placeFor(child *plan, gone map[int]bool, i int) int {
	if gone[i] {
		return i
	}
	for at := range child.routes {
		if w.routes[at].kind == w.routes[i].kind && len(child.routes[at]) == 0 {
			return at
		}
	}
	return -1
}
