package dissect

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawNetwork makes a small network with its vertices along a line.
func drawNetwork(t *rapid.T) *network {
	n := rapid.IntRange(2, 9).Draw(t, "vertices")
	net := &network{}
	for v := range n {
		net.points = append(net.points, Point{X: float64(v)})
	}
	vertex := rapid.Int32Range(0, int32(n)-1)
	net.ends = rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Edge {
		return Edge{vertex.Draw(t, "a"), vertex.Draw(t, "b")}
	}), 0, 18).Draw(t, "edges")
	net.index()
	return net
}

// smallestCut tries every way to split the vertices between two sets that must
// stay apart, and counts the edges between (the definition).
func smallestCut(net *network, first, last []int32) int {
	best := len(net.ends) + 1
	for side := range 1 << len(net.points) {
		at := func(v int32) bool { return side>>v&1 == 1 }
		if slices.ContainsFunc(first, at) || slices.ContainsFunc(last, func(v int32) bool { return !at(v) }) {
			continue
		}
		between := 0
		for _, e := range net.ends {
			if at(e.A) != at(e.B) {
				between++
			}
		}
		best = min(best, between)
	}
	return best
}

func TestCutsAreTheSmallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net := drawNetwork(t)
		first, last := net.extremes([2]float64{1, 0})
		want := smallestCut(net, first, last)
		f := newFlow(net)
		if got := f.between(first, last, len(net.ends)); got != want {
			t.Fatalf("cut of %d, want %d", got, want)
		}
		side, smaller := f.sides()
		between, zeros := 0, 0
		for _, e := range net.ends {
			if side[e.A] != side[e.B] {
				between++
			}
		}
		for _, s := range side {
			if s == 0 {
				zeros++
			}
		}
		if between != want || smaller != min(zeros, len(side)-zeros) || smaller == 0 {
			t.Fatalf("the sides cut %d edges and leave %d; want %d", between, smaller, want)
		}
		if want > 0 {
			if got := f.between(first, last, want-1); got != want {
				t.Fatalf("with a limit below it the search gave up at %d of %d", got, want)
			}
		}
	})
}

func TestComponentsAreThoseThatHangTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net := drawNetwork(t)
		n := len(net.points)
		joined := make([][]bool, n)
		for v := range joined {
			joined[v] = make([]bool, n)
			joined[v][v] = true
		}
		for _, e := range net.ends {
			joined[e.A][e.B], joined[e.B][e.A] = true, true
		}
		for k := range n {
			for a := range n {
				for b := range n {
					joined[a][b] = joined[a][b] || joined[a][k] && joined[k][b]
				}
			}
		}
		part := net.components()
		for a := range n {
			for b := range n {
				if same := part == nil || part[a] == part[b]; same != joined[a][b] {
					t.Fatalf("%d and %d: same part %v, joined %v", a, b, same, joined[a][b])
				}
			}
		}
	})
}

func TestPeelingLeavesNoEndsAndNoChains(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		net := drawNetwork(t)
		p := peel(len(net.points), net.ends)
		core := p.core()
		if len(core.edges)+len(p.first) != len(net.ends) {
			t.Fatalf("%d edges peeled, %d left, of %d", len(p.first), len(core.edges), len(net.ends))
		}
		arms := make([]int, len(net.points))
		neighbour := make([][]int32, len(net.points))
		for _, e := range core.edges {
			if e.A == e.B {
				t.Fatalf("a loop is left")
			}
			arms[e.A]++
			arms[e.B]++
			neighbour[e.A], neighbour[e.B] = append(neighbour[e.A], e.B), append(neighbour[e.B], e.A)
		}
		for v, n := range arms {
			if n == 1 {
				t.Fatalf("vertex %d is a dead end", v)
			}
			if n == 2 && neighbour[v][0] != neighbour[v][1] {
				t.Fatalf("vertex %d is inside a chain", v)
			}
		}
	})
}
