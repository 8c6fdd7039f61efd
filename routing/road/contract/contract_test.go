package contract_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"drawbar/routing/road/contract"
)

// graph is a random directed graph with costs, and all its distances by
// Floyd-Warshall (Floyd 1962), the referee of this file.
type graph struct {
	n     int
	arcs  []contract.Arc
	costs []uint64
}

func (g graph) allPairs() [][]uint64 {
	d := make([][]uint64, g.n)
	for x := range d {
		d[x] = make([]uint64, g.n)
		for y := range d[x] {
			if x != y {
				d[x][y] = contract.Inf
			}
		}
	}
	for i, a := range g.arcs {
		d[a.From][a.To] = min(d[a.From][a.To], g.costs[i])
	}
	for k := range d {
		for x := range d {
			for y := range d {
				d[x][y] = min(d[x][y], d[x][k]+d[k][y])
			}
		}
	}
	return d
}

// drawGraph makes graphs of every kind that roads give: one-ways, parallel
// arcs, loops, zero costs, closed arcs, parts nobody reaches.
func drawGraph(t *rapid.T) graph {
	g := graph{n: rapid.IntRange(1, 24).Draw(t, "nodes")}
	node := rapid.Int32Range(0, int32(g.n)-1)
	for range rapid.IntRange(0, 3*g.n).Draw(t, "arcs") {
		a := contract.Arc{From: node.Draw(t, "from"), To: node.Draw(t, "to")}
		g.arcs = append(g.arcs, a)
		g.costs = append(g.costs, drawCost(t))
		if rapid.Bool().Draw(t, "both ways") {
			g.arcs = append(g.arcs, contract.Arc{From: a.To, To: a.From})
			g.costs = append(g.costs, drawCost(t))
		}
	}
	return g
}

func drawCost(t *rapid.T) uint64 {
	if rapid.IntRange(0, 9).Draw(t, "closed") == 0 {
		return contract.Inf
	}
	return rapid.Uint64Range(0, 6).Draw(t, "cost")
}

func capped(d uint64) uint64 { return min(d, contract.Inf) }

func TestEveryPairIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t)
		topology := contract.Build(g.n, g.arcs)
		m, s, want := topology.Customize(g.costs), topology.NewSearch(), g.allPairs()
		for x := range g.n {
			for y := range g.n {
				got := m.Cost(s, seed(x, 0), seed(y, 0))
				if got != capped(want[x][y]) {
					t.Fatalf("%d to %d: %d, want %d", x, y, got, want[x][y])
				}
			}
		}
	})
}

func seed(x int, cost uint64) []contract.Label { return []contract.Label{{Node: int32(x), Cost: cost}} }

func TestOneTopologyServesEveryCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t)
		topology := contract.Build(g.n, g.arcs)
		s := topology.NewSearch()
		for range 3 {
			for i := range g.costs {
				g.costs[i] = drawCost(t)
			}
			m, want := topology.Customize(g.costs), g.allPairs()
			x, y := rapid.IntRange(0, g.n-1).Draw(t, "x"), rapid.IntRange(0, g.n-1).Draw(t, "y")
			if got := m.Cost(s, seed(x, 0), seed(y, 0)); got != capped(want[x][y]) {
				t.Fatalf("%d to %d: %d, want %d", x, y, got, want[x][y])
			}
		}
	})
}

func drawSeeds(t *rapid.T, n int) []contract.Label {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) contract.Label {
		return contract.Label{Node: rapid.Int32Range(0, int32(n)-1).Draw(t, "node"), Cost: rapid.Uint64Range(0, 5).Draw(t, "head start")}
	}), 0, 4).Draw(t, "seeds")
}

func bestOf(want [][]uint64, from, to []contract.Label) uint64 {
	best := contract.Inf
	for _, a := range from {
		for _, b := range to {
			best = min(best, a.Cost+want[a.Node][b.Node]+b.Cost)
		}
	}
	return best
}

func TestTableOfSeedSetsIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t)
		topology := contract.Build(g.n, g.arcs)
		m, s, want := topology.Customize(g.costs), topology.NewSearch(), g.allPairs()
		places := make([][]contract.Label, rapid.IntRange(1, 6).Draw(t, "places"))
		for i := range places {
			places[i] = drawSeeds(t, g.n)
		}
		buckets, row := m.Gather(s, places), make([]uint64, len(places))
		for i, from := range places {
			buckets.Row(s, from, row)
			for j, to := range places {
				if row[j] != bestOf(want, from, to) {
					t.Fatalf("row %d, column %d: %d, want %d", i, j, row[j], bestOf(want, from, to))
				}
			}
		}
	})
}

func TestPathAddsUpToItsCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGraph(t)
		topology := contract.Build(g.n, g.arcs)
		m, s := topology.Customize(g.costs), topology.NewSearch()
		from, to := drawSeeds(t, g.n), drawSeeds(t, g.n)
		nodes, cost := m.Path(s, from, to)
		if cost != bestOf(g.allPairs(), from, to) {
			t.Fatalf("cost %d, want %d", cost, bestOf(g.allPairs(), from, to))
		}
		if (nodes == nil) != (cost >= contract.Inf) {
			t.Fatalf("cost %d with nodes %v", cost, nodes)
		}
		if nodes != nil && g.walk(nodes)+headStart(from, nodes[0])+headStart(to, nodes[len(nodes)-1]) != cost {
			t.Fatalf("nodes %v do not add up to %d", nodes, cost)
		}
	})
}

// walk adds the cheapest arcs between consecutive nodes.
func (g graph) walk(nodes []int32) (sum uint64) {
	for k := 1; k < len(nodes); k++ {
		best := contract.Inf
		for i, a := range g.arcs {
			if a.From == nodes[k-1] && a.To == nodes[k] {
				best = min(best, g.costs[i])
			}
		}
		sum += best
	}
	return sum
}

func headStart(seeds []contract.Label, node int32) uint64 {
	best := contract.Inf
	for _, s := range seeds {
		if s.Node == node {
			best = min(best, s.Cost)
		}
	}
	return best
}

func TestHeightOfAChain(t *testing.T) {
	// A path of seven nodes eliminated odd ones first, then every second of
	// the rest, is a balanced tree of three levels (George 1973).
	arcs := []contract.Arc{}
	order := []int32{0, 4, 1, 6, 2, 5, 3} // rank of the i-th node along the path
	for i := 1; i < len(order); i++ {
		arcs = append(arcs, contract.Arc{From: order[i-1], To: order[i]}, contract.Arc{From: order[i], To: order[i-1]})
	}
	topology := contract.Build(7, arcs)
	if got := topology.Height(); got != 3 {
		t.Errorf("height %d, want 3", got)
	}
	if got := topology.Nodes(); got != 7 {
		t.Errorf("%d nodes, want 7", got)
	}
}

func TestEmptyGraph(t *testing.T) {
	topology := contract.Build(0, nil)
	m := topology.Customize(nil)
	if got := m.Cost(topology.NewSearch(), nil, nil); got != contract.Inf {
		t.Errorf("cost %d in a graph of nothing", got)
	}
}

func Example() {
	// A one-way street 0→1→2 and a slow way back 2→0.
	arcs := []contract.Arc{{From: 0, To: 1}, {From: 1, To: 2}, {From: 2, To: 0}}
	topology := contract.Build(3, arcs)
	metric, search := topology.Customize([]uint64{3, 4, 20}), topology.NewSearch()
	at := func(x int32) []contract.Label { return []contract.Label{{Node: x}} }
	nodes, cost := metric.Path(search, at(1), at(0))
	fmt.Println(nodes, cost)
	// Output: [1 2 0] 24
}
