package dissect

import (
	"cmp"
	"slices"
)

// share is how much of a cell is tied to each end of a line. A larger share
// makes more even cuts, a smaller one smaller cuts; a quarter is what the
// inertial flow paper settles on.
const share = 0.25

// cut splits a connected cell in two over few edges. side is 0 or 1 by vertex.
func (n *network) cut() []int32 {
	f := newFlow(n)
	best, side := len(n.ends)+1, []int32(nil)
	balance := 0
	for _, line := range [][2]float64{{1, 0}, {0, 1}, {1, 1}, {1, -1}} {
		first, last := n.extremes(line)
		size := f.between(first, last, best)
		if size > best {
			continue
		}
		s, smaller := f.sides()
		if size < best || smaller > balance {
			best, side, balance = size, s, smaller
		}
	}
	return side
}

// extremes sorts the vertices along a line and gives both ends.
func (n *network) extremes(line [2]float64) (first, last []int32) {
	order, at := make([]int32, len(n.points)), make([]float64, len(n.points))
	for v, p := range n.points {
		order[v], at[v] = int32(v), p.X*line[0]+p.Y*line[1]
	}
	slices.SortFunc(order, func(a, b int32) int {
		return cmp.Or(cmp.Compare(at[a], at[b]), cmp.Compare(a, b))
	})
	k := max(1, int(share*float64(len(order))))
	return order[:k], order[len(order)-k:]
}

// flow is a maximum flow over edges of capacity one in both directions, by
// Dinic's algorithm (1970).
type flow struct {
	n              *network
	used           []int8 // by edge: +1 flow from A to B, -1 from B to A
	level          []int32
	next           []int32
	queue          []int32
	source, sink   []bool
	starts, finish []int32
}

func newFlow(n *network) *flow {
	v := len(n.points)
	return &flow{n: n, used: make([]int8, len(n.ends)), level: make([]int32, v), next: make([]int32, v),
		source: make([]bool, v), sink: make([]bool, v)}
}

// between finds the smallest cut between two sets of vertices, or gives up
// with limit+1 when it is larger than limit.
func (f *flow) between(first, last []int32, limit int) int {
	clear(f.used)
	clear(f.source)
	clear(f.sink)
	f.starts, f.finish = first, last
	for _, v := range first {
		f.source[v] = true
	}
	for _, v := range last {
		f.sink[v] = true
	}
	size := 0
	for f.layer() {
		copy(f.next, f.n.start)
		for _, v := range first {
			for f.push(v) {
				if size++; size > limit {
					return size
				}
			}
		}
	}
	return size
}

// open tells whether an arm can carry more.
func (f *flow) open(arm int32) bool {
	u := f.used[arm>>1]
	if arm&1 == 1 {
		u = -u
	}
	return u < 1
}

// layer numbers vertices by their distance from the source; false when the
// sink cannot be reached any more.
func (f *flow) layer() bool {
	for v := range f.level {
		f.level[v] = -1
	}
	f.queue = append(f.queue[:0], f.starts...)
	for _, v := range f.starts {
		f.level[v] = 0
	}
	reached := false
	for i := 0; i < len(f.queue); i++ {
		v := f.queue[i]
		for _, arm := range f.n.arm[f.n.start[v]:f.n.start[v+1]] {
			if y := f.n.head(arm); f.level[y] < 0 && f.open(arm) {
				f.level[y] = f.level[v] + 1
				f.queue = append(f.queue, y)
				reached = reached || f.sink[y]
			}
		}
	}
	return reached
}

// push sends one unit from v to the sink along the layers.
func (f *flow) push(v int32) bool {
	if f.sink[v] {
		return true
	}
	for ; f.next[v] < f.n.start[v+1]; f.next[v]++ {
		arm := f.n.arm[f.next[v]]
		y := f.n.head(arm)
		if f.level[y] != f.level[v]+1 || !f.open(arm) || !f.push(y) {
			continue
		}
		if arm&1 == 0 {
			f.used[arm>>1]++
		} else {
			f.used[arm>>1]--
		}
		return true
	}
	return false
}

// sides reads the cut off the flow. Of the cut nearest the source and the one
// nearest the sink it takes the more even; smaller is its lesser side.
func (f *flow) sides() (side []int32, smaller int) {
	near, a := f.reach(f.starts, false)
	far, b := f.reach(f.finish, true)
	total := len(f.level)
	if min(a, total-a) >= min(b, total-b) {
		return near, min(a, total-a)
	}
	return far, min(b, total-b)
}

// reach marks with 0 the vertices that can still get flow from the starts, or,
// backwards, still give it to them.
func (f *flow) reach(starts []int32, backwards bool) (side []int32, count int) {
	side = make([]int32, len(f.level))
	for v := range side {
		side[v] = 1
	}
	f.queue = append(f.queue[:0], starts...)
	for _, v := range starts {
		side[v] = 0
	}
	for i := 0; i < len(f.queue); i++ {
		v := f.queue[i]
		for _, arm := range f.n.arm[f.n.start[v]:f.n.start[v+1]] {
			way := arm
			if backwards {
				way ^= 1
			}
			if y := f.n.head(arm); side[y] == 1 && f.open(way) {
				side[y] = 0
				f.queue = append(f.queue, y)
			}
		}
	}
	return side, len(f.queue)
}
