package evolve

// run is a stretch of a route: how long and how late it is, as in package
// search, what its drives cost and what it loads.
type run struct {
	dur, warp, early, late int32
	first, last            int32 // visits, or home
	path                   int64
	load                   int64
}

// route is one route under change. Position 0 and the last are home.
type route struct {
	routeOf
	nodes []node // of its kind
	seq   []int32
	pre   []run // from the start up to a position
	suf   []run // from a position to the end
	cost  int64 // with fines
	path  int64 // of cost, what drives and extras cost
	stamp int   // when it last changed
}

// single is one visit as a run.
func (r *route) single(v int32) *run { return &r.nodes[v].run }

// join drives from a to b.
func (r *route) join(a *run, b *run) run {
	i := int(a.last)*r.stride + int(b.first)
	drive := r.g.dur[i]
	span := a.dur - a.warp + drive
	wait := max(0, b.early-span-a.late)
	warp := max(0, a.early+span-b.late)
	return run{
		dur: a.dur + b.dur + drive + wait, warp: a.warp + b.warp + warp,
		early: max(b.early-span, a.early) - wait, late: min(b.late-span, a.late) + warp,
		first: a.first, last: b.last,
		path: a.path + b.path + r.g.money[i], load: a.load + b.load,
	}
}

// edge is the price of a drive.
func (r *route) edge(a, b int32) int64 { return r.g.money[int(a)*r.stride+int(b)] }

// empty tells whether nothing is on the route.
func (r *route) empty() bool { return len(r.seq) == 2 }

// fines are the prices of breaking rules on the way, in ticks a second and a
// unit of load.
type fines struct{ late, load int64 }

// cost prices a whole route.
func (l *local) price(r *route, w *run) int64 {
	rd, p := r.rd, &l.w.m.Price
	cost := w.path + p.RigDay
	if w.warp > 0 {
		cost += l.fines.late * int64(w.warp)
	}
	if over := w.load - rd.MaxLoad; over > 0 {
		cost += l.fines.load * over
	}
	if over := w.dur - rd.Longest; over > 0 {
		cost += l.fines.late * int64(over)
	}
	if l.w.m.Timed {
		cost += p.Second * int64(w.dur)
		cost += p.Over * int64(max(0, w.early+w.dur-rd.End))
	}
	return cost
}

// renew reckons a route from its sequence.
func (l *local) renew(r *route) {
	k := len(r.seq)
	r.pre, r.suf = resize(r.pre, k), resize(r.suf, k)
	home := int32(l.w.n)
	r.pre[0] = run{early: r.rd.Start, late: 1 << 26, first: home, last: home}
	r.suf[k-1] = run{late: r.rd.Latest, first: home, last: home}
	for i := 1; i < k-1; i++ {
		v := r.seq[i]
		r.pre[i] = r.join(&r.pre[i-1], r.single(v))
		l.at[v], l.pos[v] = r, int32(i)
	}
	for i := k - 2; i > 0; i-- {
		r.suf[i] = r.join(r.single(r.seq[i]), &r.suf[i+1])
	}
	r.pre[k-1] = r.join(&r.pre[k-2], &r.suf[k-1])
	r.suf[0] = r.pre[k-1]
	r.cost, r.path = 0, 0
	if k > 2 {
		r.cost, r.path = l.price(r, &r.pre[k-1]), r.pre[k-1].path
	}
	r.stamp = l.now
}

func resize(s []run, k int) []run {
	if cap(s) < k {
		return make([]run, k, 2*k)
	}
	return s[:k]
}
