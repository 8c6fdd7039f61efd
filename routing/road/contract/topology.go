package contract

import "slices"

// Inf is the cost of what cannot be reached or passed.
const Inf = uint64(1) << 62

// Arc is a directed arc of the graph to contract.
type Arc struct{ From, To int32 }

// adjacency is a compressed list of neighbours: those of x are
// node[start[x]:start[x+1]], ascending.
type adjacency struct {
	start []int32
	node  []int32
}

func (a adjacency) of(x int32) []int32 { return a.node[a.start[x]:a.start[x+1]] }

// find gives the position of y among the neighbours of x, or -1.
func (a adjacency) find(x, y int32) int32 {
	i, ok := slices.BinarySearch(a.of(x), y)
	if !ok {
		return -1
	}
	return a.start[x] + int32(i)
}

// Topology is the shape of a hierarchy: every arc and shortcut between a node
// and its higher neighbours, without costs.
type Topology struct {
	n      int32
	parent []int32   // elimination tree over the undirected graph, -1 at a root
	up     adjacency // x → higher
	down   adjacency // higher → x
	slot   []int32   // arc given to Build → position in up, or len(up)+position in down; -1 for a loop
}

// Nodes is the number of nodes.
func (t *Topology) Nodes() int { return int(t.n) }

// Shortcuts is the number of arcs in the hierarchy, the given ones included.
func (t *Topology) Shortcuts() int { return len(t.up.node) + len(t.down.node) }

// Height is the length of the longest way up the elimination tree: no search
// ever visits more nodes than this per seed.
func (t *Topology) Height() int {
	depth, deepest := make([]int32, t.n), int32(0)
	for x := t.n - 1; x >= 0; x-- {
		depth[x] = 1
		if p := t.parent[x]; p >= 0 {
			depth[x] = depth[p] + 1
		}
		deepest = max(deepest, depth[x])
	}
	return int(deepest)
}

// Build contracts the graph of n nodes in their order. Arcs must have ends in
// [0,n).
func Build(n int, arcs []Arc) *Topology {
	f := newFill(n, arcs)
	f.run()
	t := &Topology{n: int32(n), parent: eliminationTree(n, arcs), up: pack(f.up), down: pack(f.down)}
	t.slot = t.place(arcs)
	return t
}

// place finds where each given arc landed.
func (t *Topology) place(arcs []Arc) []int32 {
	slot := make([]int32, len(arcs))
	for i, a := range arcs {
		switch {
		case a.From == a.To:
			slot[i] = -1
		case a.From < a.To:
			slot[i] = t.up.find(a.From, a.To)
		default:
			slot[i] = int32(len(t.up.node)) + t.down.find(a.To, a.From)
		}
	}
	return slot
}

// pack turns lists into one compressed adjacency.
func pack(lists [][]int32) adjacency {
	start := make([]int32, len(lists)+1)
	for x, l := range lists {
		start[x+1] = start[x] + int32(len(l))
	}
	node := make([]int32, 0, start[len(lists)])
	for _, l := range lists {
		node = append(node, l...)
	}
	return adjacency{start, node}
}
