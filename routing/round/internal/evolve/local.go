package evolve

import "math/rand/v2"

// local drives a plan to a local optimum.
type local struct {
	w      *world
	rng    *rand.Rand
	fines  fines
	routes []*route
	at     []*route // of each visit; nil = left out
	pos    []int32
	tested []int // when a visit was last tried
	order  []int32
	now    int
	cut    cut
}

func newLocal(w *world, rng *rand.Rand) *local {
	l := &local{w: w, rng: rng, at: make([]*route, w.n), pos: make([]int32, w.n), tested: make([]int, w.n)}
	for i := range w.routes {
		l.routes = append(l.routes, &route{routeOf: w.routes[i], nodes: w.nodes[w.routes[i].kind]})
	}
	for v := range w.n {
		l.order = append(l.order, int32(v))
	}
	return l
}

// load takes over a plan.
func (l *local) load(p *plan) {
	home := int32(l.w.n)
	l.now = 0
	clear(l.at)
	for i, r := range l.routes {
		r.seq = append(append(append(r.seq[:0], home), p.routes[i]...), home)
		l.renew(r)
	}
}

// store writes the plan back and prices it.
func (l *local) store(p *plan) {
	p.reset(len(l.routes))
	for i, r := range l.routes {
		p.routes[i] = append(p.routes[i][:0], r.seq[1:len(r.seq)-1]...)
		if r.empty() {
			continue
		}
		whole := &r.pre[len(r.seq)-1]
		p.warp += int64(whole.warp) + int64(max(0, whole.dur-r.rd.Longest))
		p.over += max(0, whole.load-r.rd.MaxLoad)
		p.cost += r.cost
	}
	for v, r := range l.at {
		if r == nil {
			p.out = append(p.out, int32(v))
			p.cost += l.w.m.Visits[v].Absent
		}
	}
	p.cost -= p.warp*l.fines.late + p.over*l.fines.load
}

// improve makes improving moves until none is left.
func (l *local) improve() {
	l.fill()
	l.rng.Shuffle(len(l.order), func(i, j int) { l.order[i], l.order[j] = l.order[j], l.order[i] })
	for i := range l.tested {
		l.tested[i] = -1
	}
	for loop, found := 0, true; found || loop == 1; loop++ {
		found = false
		for _, u := range l.order {
			if l.at[u] != nil && l.visit(u, loop > 0) {
				found = true
			}
		}
	}
}

// visit tries every move of u; with open, also to an empty route.
func (l *local) visit(u int32, open bool) bool {
	found := false
	tested := l.tested[u]
	l.tested[u] = l.now
	l.cut.stamp = -1
	for _, v := range l.w.near[u] {
		for l.at[v] != nil && max(l.at[u].stamp, l.at[v].stamp) > tested && l.pair(u, v) {
			found = true
		}
		// The first of a route has no visit before it to follow.
		if r := l.at[v]; r != nil && l.pos[v] == 1 && max(l.at[u].stamp, r.stamp) > tested && l.toFront(u, r) {
			found = true
		}
	}
	if open {
		found = l.toEmpty(u) || found
	}
	return found
}

// toEmpty tries to open a route with u.
func (l *local) toEmpty(u int32) bool {
	seen := -1
	for _, r := range l.routes {
		if r.empty() && r.kind > seen {
			seen = r.kind
			if l.toFront(u, r) {
				return true
			}
		}
	}
	return false
}

// fill gives every visit left out its cheapest place, fines included.
func (l *local) fill() {
	l.rng.Shuffle(len(l.order), func(i, j int) { l.order[i], l.order[j] = l.order[j], l.order[i] })
	for _, v := range l.order {
		if l.at[v] == nil {
			l.insert(v)
		}
	}
}

func (l *local) insert(v int32) {
	best := l.w.m.Visits[v].Absent
	var to *route
	var after int
	seen := -1
	for _, r := range l.routes {
		if r.nodes[v].choice < 0 || r.empty() && r.kind <= seen {
			continue
		}
		if r.empty() {
			seen = r.kind
		}
		for i := 0; i < len(r.seq)-1; i++ {
			if cost, ok := l.insertion(r, v, i, best); ok {
				best, to, after = cost, r, i
			}
		}
	}
	if to != nil {
		l.now++
		to.seq = append(to.seq, 0)
		copy(to.seq[after+2:], to.seq[after+1:])
		to.seq[after+1] = v
		l.renew(to)
	}
}

// insertion is the cost of v after position i, if below a bound.
func (l *local) insertion(r *route, v int32, i int, bound int64) (int64, bool) {
	path := r.edge(r.seq[i], v) + r.edge(v, r.seq[i+1])
	if !r.empty() {
		path -= r.edge(r.seq[i], r.seq[i+1])
	}
	if path-(r.cost-r.path) >= bound {
		return 0, false
	}
	cost := l.three(r, &r.pre[i], r.single(v), &r.suf[i+1]) - r.cost
	return cost, cost < bound
}
