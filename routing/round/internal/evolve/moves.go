package evolve

// pair tries the moves that bring u behind v or exchange what is around them,
// and makes the first that pays.
func (l *local) pair(u, v int32) bool {
	a, b := l.at[u], l.at[v]
	if a == b {
		return l.within(a, int(l.pos[u]), int(l.pos[v]))
	}
	i, j := int(l.pos[u]), int(l.pos[v])
	for n := 1; n <= 3; n++ {
		if i+n < len(a.seq) && l.relocate(a, i, n, b, j, false) {
			return true
		}
	}
	if i+2 < len(a.seq) && l.relocate(a, i, 2, b, j, true) {
		return true
	}
	for n := 1; n <= 2; n++ {
		for k := 0; k <= n; k++ {
			if i+n < len(a.seq) && j+1+k < len(b.seq) && k > 0 && l.exchange(a, i, n, b, j+1, k) {
				return true
			}
		}
	}
	return l.tails(a, i, b, j) || l.tails(a, i-1, b, j)
}

// toFront tries to bring u, and what follows it, to the front of a route.
func (l *local) toFront(u int32, b *route) bool {
	a, i := l.at[u], int(l.pos[u])
	if a == b {
		return false
	}
	for n := 1; n <= 3; n++ {
		if i+n < len(a.seq) && l.relocate(a, i, n, b, 0, false) {
			return true
		}
	}
	return l.tails(a, i-1, b, 0)
}

// bound is the most that time, fines and turning out could save.
func (r *route) bound() int64 { return r.cost - r.path }

// may tells whether visits of a stretch of a may go on b.
func (b *route) may(a *route, seq []int32) bool {
	if a.kind == b.kind {
		return true
	}
	for _, v := range seq {
		if b.nodes[v].choice < 0 {
			return false
		}
	}
	return true
}

// extra is how much dearer visits of a are on b than where they are, drives
// apart.
func (b *route) extra(a *route, seq []int32) int64 {
	if a.kind == b.kind {
		return 0
	}
	var sum int64
	for _, v := range seq {
		sum += b.nodes[v].path - a.nodes[v].path
	}
	return sum
}

// stretch is visits of another route as a run on this one.
func (r *route) stretch(seq []int32, backwards bool) run {
	k := len(seq)
	if backwards {
		w := *r.single(seq[k-1])
		for i := k - 2; i >= 0; i-- {
			w = r.join(&w, r.single(seq[i]))
		}
		return w
	}
	w := *r.single(seq[0])
	for _, v := range seq[1:] {
		w = r.join(&w, r.single(v))
	}
	return w
}

// two prices a route made of two runs, three and four of more.
func (l *local) two(r *route, a, b *run) int64 {
	w := r.join(a, b)
	return l.price(r, &w)
}

func (l *local) three(r *route, a, b, c *run) int64 {
	w := r.join(a, b)
	return l.two(r, &w, c)
}

func (l *local) four(r *route, a, b, c, d *run) int64 {
	w := r.join(a, b)
	return l.three(r, &w, c, d)
}

// cut remembers what a route costs without one to three visits of it.
type cut struct {
	stamp, at int
	r         *route
	cost      [4]int64
}

// without is the cost of a route without n visits from position i.
func (l *local) without(r *route, i, n int) int64 {
	c := &l.cut
	if c.stamp != r.stamp || c.at != i || c.r != r {
		*c = cut{stamp: r.stamp, at: i, r: r, cost: [4]int64{-1, -1, -1, -1}}
	}
	if c.cost[n] < 0 {
		c.cost[n] = 0
		if len(r.seq) > n+2 {
			c.cost[n] = l.two(r, &r.pre[i-1], &r.suf[i+n])
		}
	}
	return c.cost[n]
}

// relocate moves n visits from position i of a behind position j of b.
func (l *local) relocate(a *route, i, n int, b *route, j int, backwards bool) bool {
	moved := a.seq[i : i+n]
	first, last := moved[0], moved[n-1]
	if backwards {
		first, last = last, first
	}
	next := b.seq[j+1]
	path := a.edge(a.seq[i-1], a.seq[i+n]) - a.edge(a.seq[i-1], moved[0]) - a.edge(moved[n-1], a.seq[i+n]) +
		b.edge(b.seq[j], first) + b.edge(last, next) - b.edge(b.seq[j], next) + b.extra(a, moved)
	if path >= a.bound()+b.bound() || !b.may(a, moved) {
		return false
	}
	costA := l.without(a, i, n)
	if costA >= a.cost+b.cost {
		return false
	}
	run := b.stretch(moved, backwards)
	if costA+l.three(b, &b.pre[j], &run, &b.suf[j+1]) >= a.cost+b.cost {
		return false
	}
	l.apply(a, i, n, b, j+1, 0, backwards)
	return true
}

// exchange swaps n visits from position i of a with k from position j of b.
func (l *local) exchange(a *route, i, n int, b *route, j, k int) bool {
	out, in := a.seq[i:i+n], b.seq[j:j+k]
	path := a.edge(a.seq[i-1], in[0]) + a.edge(in[k-1], a.seq[i+n]) - a.edge(a.seq[i-1], out[0]) - a.edge(out[n-1], a.seq[i+n]) +
		b.edge(b.seq[j-1], out[0]) + b.edge(out[n-1], b.seq[j+k]) - b.edge(b.seq[j-1], in[0]) - b.edge(in[k-1], b.seq[j+k]) +
		a.extra(b, in) + b.extra(a, out)
	if path >= a.bound()+b.bound() || !a.may(b, in) || !b.may(a, out) {
		return false
	}
	runIn := a.stretch(in, false)
	costA := l.three(a, &a.pre[i-1], &runIn, &a.suf[i+n])
	if costA >= a.cost+b.cost {
		return false
	}
	runOut := b.stretch(out, false)
	if costA+l.three(b, &b.pre[j-1], &runOut, &b.suf[j+k]) >= a.cost+b.cost {
		return false
	}
	l.apply(a, i, n, b, j, k, false)
	return true
}

// apply puts b's k visits from j where a's n visits from i were, and back.
func (l *local) apply(a *route, i, n int, b *route, j, k int, backwards bool) {
	out := append([]int32(nil), a.seq[i:i+n]...)
	in := append([]int32(nil), b.seq[j:j+k]...)
	if backwards {
		for x, y := 0, n-1; x < y; x, y = x+1, y-1 {
			out[x], out[y] = out[y], out[x]
		}
	}
	a.seq = splice(a.seq, i, n, in)
	b.seq = splice(b.seq, j, k, out)
	l.changed(a, b)
}

// splice replaces n of a sequence from i on.
func splice(seq []int32, i, n int, by []int32) []int32 {
	tail := append([]int32(nil), seq[i+n:]...)
	return append(append(seq[:i], by...), tail...)
}

func (l *local) changed(routes ...*route) {
	l.now++
	for _, r := range routes {
		l.renew(r)
	}
}

// tails exchanges what comes after position i of a and position j of b.
func (l *local) tails(a *route, i int, b *route, j int) bool {
	x, y := a.seq[i+1], b.seq[j+1]
	path := a.edge(a.seq[i], y) + b.edge(b.seq[j], x) - a.edge(a.seq[i], x) - b.edge(b.seq[j], y)
	if a.kind != b.kind || path >= a.bound()+b.bound() {
		return false
	}
	lenA, lenB := i+len(b.seq)-j, j+len(a.seq)-i
	costA, costB := int64(0), int64(0)
	if lenA > 2 {
		costA = l.two(a, &a.pre[i], &b.suf[j+1])
	}
	if lenB > 2 {
		costB = l.two(b, &b.pre[j], &a.suf[i+1])
	}
	if costA+costB >= a.cost+b.cost {
		return false
	}
	tailA := append([]int32(nil), a.seq[i+1:]...)
	a.seq = append(a.seq[:i+1], b.seq[j+1:]...)
	b.seq = append(b.seq[:j+1], tailA...)
	l.changed(a, b)
	return true
}
