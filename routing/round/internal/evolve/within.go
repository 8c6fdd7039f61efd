package evolve

// within tries moves inside one route: u's stretch behind v, an exchange, and
// the stretch between reversed.
func (l *local) within(r *route, i, j int) bool {
	for n := 1; n <= 3; n++ {
		if i+n < len(r.seq) && (j < i-1 || j >= i+n) {
			if l.shift(r, i, n, j, false) || n == 2 && l.shift(r, i, n, j, true) {
				return true
			}
		}
	}
	if j > i+1 && l.reverse(r, i+1, j) {
		return true
	}
	return j+1 < len(r.seq)-1 && j+1 != i && l.trade(r, min(i, j+1), max(i, j+1))
}

// shift moves n visits from i behind position j of the same route.
func (l *local) shift(r *route, i, n, j int, backwards bool) bool {
	s := r.seq
	first, last := s[i], s[i+n-1]
	if backwards {
		first, last = last, first
	}
	path := r.edge(s[i-1], s[i+n]) - r.edge(s[i-1], s[i]) - r.edge(s[i+n-1], s[i+n]) +
		r.edge(s[j], first) + r.edge(last, s[j+1]) - r.edge(s[j], s[j+1])
	if path >= r.bound() {
		return false
	}
	moved := r.stretch(s[i:i+n], backwards)
	var cost int64
	if j < i {
		between := r.stretch(s[j+1:i], false)
		cost = l.four(r, &r.pre[j], &moved, &between, &r.suf[i+n])
	} else {
		between := r.stretch(s[i+n:j+1], false)
		cost = l.four(r, &r.pre[i-1], &between, &moved, &r.suf[j+1])
	}
	if cost >= r.cost {
		return false
	}
	out := append([]int32(nil), s[i:i+n]...)
	if backwards {
		flip(out)
	}
	rest := splice(s, i, n, nil)
	to := j + 1
	if j > i {
		to -= n
	}
	r.seq = splice(rest, to, 0, out)
	l.changed(r)
	return true
}

func flip(s []int32) {
	for x, y := 0, len(s)-1; x < y; x, y = x+1, y-1 {
		s[x], s[y] = s[y], s[x]
	}
}

// reverse turns the visits from i to j around.
func (l *local) reverse(r *route, i, j int) bool {
	s := r.seq
	path := r.edge(s[i-1], s[j]) + r.edge(s[i], s[j+1]) - r.edge(s[i-1], s[i]) - r.edge(s[j], s[j+1])
	for k := i; k < j; k++ {
		path += r.edge(s[k+1], s[k]) - r.edge(s[k], s[k+1])
	}
	if path >= r.bound() {
		return false
	}
	turned := r.stretch(s[i:j+1], true)
	if l.three(r, &r.pre[i-1], &turned, &r.suf[j+1]) >= r.cost {
		return false
	}
	flip(s[i : j+1])
	l.changed(r)
	return true
}

// trade exchanges the visits at i and j, with others between.
func (l *local) trade(r *route, i, j int) bool {
	s := r.seq
	if j-i < 2 {
		return false
	}
	path := r.edge(s[i-1], s[j]) + r.edge(s[j], s[i+1]) + r.edge(s[j-1], s[i]) + r.edge(s[i], s[j+1]) -
		r.edge(s[i-1], s[i]) - r.edge(s[i], s[i+1]) - r.edge(s[j-1], s[j]) - r.edge(s[j], s[j+1])
	if path >= r.bound() {
		return false
	}
	between := r.stretch(s[i+1:j], false)
	head := r.join(&r.pre[i-1], r.single(s[j]))
	if l.four(r, &head, &between, r.single(s[i]), &r.suf[j+1]) >= r.cost {
		return false
	}
	s[i], s[j] = s[j], s[i]
	l.changed(r)
	return true
}
