package contract

import "slices"

// fill computes the directed fill-in: eliminating x joins every node with an
// arc into x to every node x has an arc to.
type fill struct {
	up, down [][]int32
}

func newFill(n int, arcs []Arc) *fill {
	ups, downs := make([]int32, n), make([]int32, n)
	for _, a := range arcs {
		switch {
		case a.From < a.To:
			ups[a.From]++
		case a.From > a.To:
			downs[a.To]++
		}
	}
	f := &fill{up: carve(ups), down: carve(downs)}
	for _, a := range arcs {
		switch {
		case a.From < a.To:
			f.up[a.From] = append(f.up[a.From], a.To)
		case a.From > a.To:
			f.down[a.To] = append(f.down[a.To], a.From)
		}
	}
	for x := range n {
		f.up[x], f.down[x] = sortUnique(f.up[x]), sortUnique(f.down[x])
	}
	return f
}

// carve makes empty lists with room for so many members each, out of one
// piece of memory.
func carve(room []int32) [][]int32 {
	total := 0
	for _, n := range room {
		total += int(n)
	}
	all, lists := make([]int32, total), make([][]int32, len(room))
	for x, n := range room {
		lists[x], all = all[:0:n], all[n:]
	}
	return lists
}

func sortUnique(s []int32) []int32 {
	slices.Sort(s)
	return slices.Compact(s)
}

func (f *fill) run() {
	for x := range f.up {
		into, outOf := f.down[x], f.up[x]
		for _, u := range into {
			f.up[u] = union(f.up[u], above(outOf, u))
		}
		for _, w := range outOf {
			f.down[w] = union(f.down[w], above(into, w))
		}
	}
}

// above is the part of a sorted list that is greater than x.
func above(list []int32, x int32) []int32 {
	i, found := slices.BinarySearch(list, x)
	if found {
		i++
	}
	return list[i:]
}

// union merges the sorted list b into the sorted list a.
func union(a, b []int32) []int32 {
	missing := countMissing(a, b)
	if missing == 0 {
		return a
	}
	n := len(a)
	a = slices.Grow(a, missing)[:n+missing]
	for i, j, k := n-1, len(b)-1, n+missing-1; j >= 0; k-- {
		switch {
		case i >= 0 && a[i] > b[j]:
			a[k] = a[i]
			i--
		case i >= 0 && a[i] == b[j]:
			a[k] = a[i]
			i--
			j--
		default:
			a[k] = b[j]
			j--
		}
	}
	return a
}

// countMissing counts the members of b that a lacks; both are sorted.
func countMissing(a, b []int32) int {
	missing, i := 0, 0
	for _, y := range b {
		for i < len(a) && a[i] < y {
			i++
		}
		if i == len(a) || a[i] != y {
			missing++
		}
	}
	return missing
}

// eliminationTree gives each node its parent in the elimination tree of the
// undirected graph (Liu 1990): every higher neighbour of x, shortcuts
// included, is an ancestor of x.
func eliminationTree(n int, arcs []Arc) []int32 {
	lower := lowerNeighbours(n, arcs)
	parent, root := make([]int32, n), make([]int32, n)
	for x := range int32(n) {
		parent[x], root[x] = -1, x
		for _, y := range lower.of(x) {
			top := climb(root, y, x)
			if top != x {
				parent[top] = x
			}
		}
	}
	return parent
}

// climb finds the root of y's tree and hangs the way there under x.
func climb(root []int32, y, x int32) int32 {
	for root[y] != y && root[y] != x {
		root[y], y = x, root[y]
	}
	top := y
	if root[y] == x {
		return x
	}
	root[top] = x
	return top
}

func lowerNeighbours(n int, arcs []Arc) adjacency {
	start := make([]int32, n+1)
	for _, a := range arcs {
		if a.From != a.To {
			start[max(a.From, a.To)+1]++
		}
	}
	for x := range n {
		start[x+1] += start[x]
	}
	node, next := make([]int32, start[n]), slices.Clone(start)
	for _, a := range arcs {
		if a.From != a.To {
			hi := max(a.From, a.To)
			node[next[hi]] = min(a.From, a.To)
			next[hi]++
		}
	}
	return adjacency{start, node}
}
