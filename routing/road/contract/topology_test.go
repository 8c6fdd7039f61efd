package contract

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func drawArcs(t *rapid.T) (n int, arcs []Arc) {
	n = rapid.IntRange(1, 14).Draw(t, "nodes")
	node := rapid.Int32Range(0, int32(n)-1)
	arcs = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Arc {
		return Arc{node.Draw(t, "from"), node.Draw(t, "to")}
	}), 0, 40).Draw(t, "arcs")
	return n, arcs
}

// eliminate is the definition: take the nodes away one after the other, and
// each time join every node that had an arc to it with every node it had an
// arc to. directed false ignores which way arcs run.
func eliminate(n int, arcs []Arc, directed bool) [][]bool {
	has := make([][]bool, n)
	for x := range has {
		has[x] = make([]bool, n)
	}
	for _, a := range arcs {
		if a.From != a.To {
			has[a.From][a.To] = true
			has[a.To][a.From] = has[a.To][a.From] || !directed
		}
	}
	for x := range n {
		for u := x + 1; u < n; u++ {
			for w := x + 1; w < n; w++ {
				if u != w && has[u][x] && has[x][w] {
					has[u][w] = true
				}
			}
		}
	}
	return has
}

func TestShortcutsAreThoseOfElimination(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, arcs := drawArcs(t)
		topology, want := Build(n, arcs), eliminate(n, arcs, true)
		count := 0
		for x := range int32(n) {
			for y := range int32(n) {
				got := x < y && slices.Contains(topology.up.of(x), y) || y < x && slices.Contains(topology.down.of(y), x)
				if got != want[x][y] {
					t.Fatalf("arc %d→%d: %v, want %v", x, y, got, want[x][y])
				}
				if got {
					count++
				}
			}
		}
		if topology.Shortcuts() != count || topology.Nodes() != n {
			t.Fatalf("%d shortcuts on %d nodes, want %d on %d", topology.Shortcuts(), topology.Nodes(), count, n)
		}
	})
}

func TestParentIsTheLowestHigherNeighbour(t *testing.T) {
	// The definition of the elimination tree (Schreiber 1982, Liu 1990), on the
	// filled undirected graph.
	rapid.Check(t, func(t *rapid.T) {
		n, arcs := drawArcs(t)
		parent, filled := eliminationTree(n, arcs), eliminate(n, arcs, false)
		deepest := 0
		for x := range n {
			want := int32(-1)
			for y := n - 1; y > x; y-- {
				if filled[x][y] {
					want = int32(y)
				}
			}
			if parent[x] != want {
				t.Fatalf("parent of %d: %d, want %d", x, parent[x], want)
			}
			depth := 0
			for y := int32(x); y >= 0; y = parent[y] {
				depth++
			}
			deepest = max(deepest, depth)
		}
		if got := Build(n, arcs).Height(); got != deepest {
			t.Fatalf("height %d, want %d", got, deepest)
		}
	})
}

func TestLabelsAreTrueDistances(t *testing.T) {
	// Every label a search hands out is a shortest distance, and for every
	// target one of them lies on a shortest path: the two halves of the promise
	// that tables rest on.
	rapid.Check(t, func(t *rapid.T) {
		n, arcs := drawArcs(t)
		costs := make([]uint64, len(arcs))
		dist := make([][]uint64, n)
		for x := range dist {
			dist[x] = make([]uint64, n)
			for y := range dist[x] {
				if x != y {
					dist[x][y] = Inf
				}
			}
		}
		for i, a := range arcs {
			costs[i] = rapid.Uint64Range(0, 9).Draw(t, "cost")
			dist[a.From][a.To] = min(dist[a.From][a.To], costs[i])
		}
		for k := range n {
			for x := range n {
				for y := range n {
					dist[x][y] = min(dist[x][y], dist[x][k]+dist[k][y], Inf)
				}
			}
		}
		topology := Build(n, arcs)
		m, s := topology.Customize(costs), topology.NewSearch()
		x := rapid.IntRange(0, n-1).Draw(t, "from")
		labels := slices.Clone(m.Forward(s, []Label{{Node: int32(x)}}))
		for _, l := range labels {
			if l.Cost != dist[x][l.Node] {
				t.Fatalf("label %+v, distance %d", l, dist[x][l.Node])
			}
		}
		back := slices.Clone(m.Backward(s, []Label{{Node: int32(x)}}))
		for _, l := range back {
			if l.Cost != dist[l.Node][x] {
				t.Fatalf("label back %+v, distance %d", l, dist[l.Node][x])
			}
		}
	})
}

func TestUnionOfSortedLists(t *testing.T) {
	sorted := rapid.Custom(func(t *rapid.T) []int32 {
		return sortUnique(rapid.SliceOfN(rapid.Int32Range(0, 20), 0, 12).Draw(t, "list"))
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b := sorted.Draw(t, "a"), sorted.Draw(t, "b")
		want := sortUnique(slices.Concat(a, b))
		if got := union(slices.Clone(a), b); !slices.Equal(got, want) {
			t.Fatalf("%v with %v: %v, want %v", a, b, got, want)
		}
		x := rapid.Int32Range(-1, 21).Draw(t, "x")
		for _, y := range above(a, x) {
			if y <= x {
				t.Fatalf("%d is not above %d", y, x)
			}
		}
	})
}
