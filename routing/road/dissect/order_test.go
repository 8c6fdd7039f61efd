package dissect_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"drawbar/routing/road/contract"
	"drawbar/routing/road/dissect"
)

// grid is a k×k lattice, whose best vertex separators are known to be of order
// k (George 1973).
func grid(k int) ([]dissect.Point, []dissect.Edge) {
	var points []dissect.Point
	var edges []dissect.Edge
	for y := range k {
		for x := range k {
			points = append(points, dissect.Point{X: float64(x), Y: float64(y)})
			v := int32(y*k + x)
			if x > 0 {
				edges = append(edges, dissect.Edge{A: v - 1, B: v})
			}
			if y > 0 {
				edges = append(edges, dissect.Edge{A: v - int32(k), B: v})
			}
		}
	}
	return points, edges
}

func isPermutation(order []int32, n int) bool {
	sorted := slices.Clone(order)
	slices.Sort(sorted)
	for i, x := range sorted {
		if x != int32(i) {
			return false
		}
	}
	return len(order) == n
}

func TestEveryEdgeOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) dissect.Point {
			return dissect.Point{X: float64(rapid.IntRange(0, 5).Draw(t, "x")), Y: float64(rapid.IntRange(0, 5).Draw(t, "y"))}
		}), 1, 30).Draw(t, "points")
		vertex := rapid.Int32Range(0, int32(len(points))-1)
		edges := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) dissect.Edge {
			return dissect.Edge{A: vertex.Draw(t, "a"), B: vertex.Draw(t, "b")}
		}), 0, 60).Draw(t, "edges")
		order := dissect.Order(points, edges)
		if !isPermutation(order, len(edges)) {
			t.Fatalf("order %v of %d edges", order, len(edges))
		}
		if again := dissect.Order(points, edges); !slices.Equal(order, again) {
			t.Fatalf("the second time gave %v after %v", again, order)
		}
	})
}

// height contracts the line graph of the edges, both directions of each, every
// turn allowed, and gives the height of the elimination tree.
func height(order []int32, edges []dissect.Edge) int {
	rank := make([]int32, len(edges))
	for r, e := range order {
		rank[e] = int32(r)
	}
	at := map[int32][]int32{}
	for i, e := range edges {
		at[e.A] = append(at[e.A], rank[i])
		at[e.B] = append(at[e.B], rank[i])
	}
	var arcs []contract.Arc
	for _, meet := range at {
		for _, a := range meet {
			for _, b := range meet {
				arcs = append(arcs, contract.Arc{From: a, To: b})
			}
		}
	}
	return contract.Build(len(edges), arcs).Height()
}

func TestGridOrderIsShallow(t *testing.T) {
	// Halving a k×k lattice over and over takes k edges, then k/2 and k/2,
	// then k/4 and k/4: 3k lie above any other (George 1973). Cuts are only
	// kept from being worse than 1:3, so twice that is allowed; an order
	// without cuts is far above, some k².
	for _, k := range []int{8, 16, 32} {
		points, edges := grid(k)
		got := height(dissect.Order(points, edges), edges)
		if got > 6*k {
			t.Errorf("%d×%d lattice: height %d, want at most %d", k, k, got, 6*k)
		}
	}
}

func TestChainOfAnyLengthIsFlatAfterPeeling(t *testing.T) {
	// A ring with a long tail has no cut worth more than two edges.
	const n = 500
	var points []dissect.Point
	var edges []dissect.Edge
	for v := range int32(n) {
		angle := 2 * math.Pi * float64(v) / n
		points = append(points, dissect.Point{X: math.Cos(angle), Y: math.Sin(angle)})
		edges = append(edges, dissect.Edge{A: v, B: (v + 1) % n})
	}
	if order := dissect.Order(points, edges); !isPermutation(order, len(edges)) {
		t.Fatal("not every edge once")
	}
}

func Example() {
	// Two squares joined by one bridge: the bridge is contracted last.
	points := []dissect.Point{{X: 0, Y: 0}, {X: 0, Y: 1}, {X: 1, Y: 0}, {X: 1, Y: 1}, {X: 5, Y: 0}, {X: 5, Y: 1}, {X: 6, Y: 0}, {X: 6, Y: 1}}
	edges := []dissect.Edge{{A: 2, B: 4}, {A: 0, B: 1}, {A: 0, B: 2}, {A: 1, B: 3}, {A: 2, B: 3}, {A: 1, B: 2}, {A: 4, B: 5}, {A: 4, B: 6}, {A: 5, B: 7}, {A: 6, B: 7}, {A: 5, B: 6}}
	order := dissect.Order(points, edges)
	fmt.Println("last:", order[len(order)-1])
	// Output: last: 0
}
