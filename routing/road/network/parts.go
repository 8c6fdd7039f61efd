package network

// StrongParts numbers the strongly connected parts of the states that in
// accepts, by Tarjan's algorithm (1972) without recursion. part is -1 for the
// others; size is by part.
func (t *Turns) StrongParts(in func(state int32) bool) (part []int32, size []int32) {
	w := &tarjan{t: t, in: in, part: make([]int32, t.States()), low: make([]int32, t.States()), seen: make([]int32, t.States()), next: make([]int32, t.States())}
	for s := range w.part {
		w.part[s] = -1
	}
	for s := range w.part {
		if w.seen[s] == 0 && in(int32(s)) {
			w.walk(int32(s))
		}
	}
	return w.part, w.size
}

type tarjan struct {
	t     *Turns
	in    func(int32) bool
	part  []int32
	size  []int32
	seen  []int32 // number of the visit, 0 before it
	low   []int32 // earliest visit that can be reached
	next  []int32 // the turn to look at next
	open  []int32 // visited states without a part yet
	trail []int32
	clock int32
}

func (w *tarjan) visit(s int32) {
	w.clock++
	w.seen[s], w.low[s], w.next[s] = w.clock, w.clock, w.t.Start[s]
	w.open, w.trail = append(w.open, s), append(w.trail, s)
}

func (w *tarjan) walk(root int32) {
	w.visit(root)
	for len(w.trail) > 0 {
		s := w.trail[len(w.trail)-1]
		if !w.advance(s) {
			w.leave(s)
		}
	}
}

// advance looks at the next turn out of s; false when there is none left.
func (w *tarjan) advance(s int32) bool {
	if w.next[s] == w.t.Start[s+1] {
		return false
	}
	to := w.t.To[w.next[s]]
	switch {
	case !w.in(to):
	case w.seen[to] == 0:
		w.visit(to)
		return true // and look at the same turn again on the way back
	case w.part[to] < 0:
		w.low[s] = min(w.low[s], w.low[to])
	}
	w.next[s]++
	return true
}

// leave finishes s. If nothing earlier can be reached from it, all states
// opened since are one part.
func (w *tarjan) leave(s int32) {
	w.trail = w.trail[:len(w.trail)-1]
	if w.low[s] < w.seen[s] {
		return
	}
	part, count := int32(len(w.size)), int32(0)
	for {
		x := w.open[len(w.open)-1]
		w.open = w.open[:len(w.open)-1]
		w.part[x] = part
		count++
		if x == s {
			break
		}
	}
	w.size = append(w.size, count)
}
