package evolve

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"drawbar/routing/round/internal/search"
)

// A child has every visit at most once, only where it may go, and every route
// is a part of one of a parent's.
func TestChildrenAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := newWorld(drawModel(t))
		father, mother := drawPlan(t, w), drawPlan(t, w)
		child := w.cross(father, mother, search.NewRand(rapid.Uint64().Draw(t, "seed"), 0))
		seen := make([]bool, w.n)
		for i, seq := range child.routes {
			for _, v := range seq {
				if seen[v] || w.nodes[w.routes[i].kind][v].choice < 0 {
					t.Fatalf("visit %d comes twice or where it may not: %v", v, child.routes)
				}
				seen[v] = true
			}
			if !slices.ContainsFunc(append(slices.Clone(father.routes), mother.routes...), func(of []int32) bool { return within(of, seq) }) {
				t.Fatalf("%v is in no parent", seq)
			}
		}
	})
}

// within tells whether a sequence is what is left of another.
func within(whole, part []int32) bool {
	for _, v := range whole {
		if len(part) > 0 && part[0] == v {
			part = part[1:]
		}
	}
	return len(part) == 0
}

// Broken pairs, by hand: of 0-1-2 and 0-2-1 with 3 apart, 0 and 1 have another
// neighbour after them; turned round, a route has the same neighbours but ends
// where it began.
func TestApart(t *testing.T) {
	of := func(routes ...[]int32) *plan {
		p := &plan{routes: routes}
		p.link(4)
		return p
	}
	a := of([]int32{0, 1, 2}, []int32{3})
	for _, c := range []struct {
		name  string
		other *plan
		want  float64
	}{
		{"itself", of([]int32{0, 1, 2}, []int32{3}), 0},
		{"on other rigs", of([]int32{3}, []int32{0, 1, 2}), 0},
		{"two turned", of([]int32{0, 2, 1}, []int32{3}), 2.0 / 4},
		{"all alone", of([]int32{0}, []int32{1}, []int32{2}, []int32{3}), 2.0 / 4},
	} {
		if got := apart(a, c.other); got != c.want {
			t.Errorf("%s: %v, not %v", c.name, got, c.want)
		}
	}
}

// The cheapest plan survives however many come, clones do not, and no kind
// grows without bound.
func TestPopulationKeepsTheBest(t *testing.T) {
	pop := population{n: 9, fines: &fines{late: 1, load: 1}}
	rng := search.NewRand(1, 0)
	least := int64(1 << 40)
	for i := range 300 {
		p := &plan{routes: [][]int32{nil, nil}, cost: 1000 + rng.Int64N(1000), warp: int64(i % 3 / 2)}
		for _, v := range rng.Perm(9) {
			k := rng.IntN(2)
			p.routes[k] = append(p.routes[k], int32(v))
		}
		if p.holds() {
			least = min(least, p.cost)
		}
		pop.add(p)
		pop.add(p.clone())
	}
	for name, kind := range map[string][]*plan{"holding": pop.holding, "broken": pop.broken} {
		if len(kind) < smallest || len(kind) > smallest+brood {
			t.Errorf("%d %s plans", len(kind), name)
		}
	}
	if !slices.ContainsFunc(pop.holding, func(p *plan) bool { return p.cost == least }) {
		t.Errorf("the best plan, %d, is gone", least)
	}
}

// Fines rise while fewer than about four in ten plans hold, and fall while
// more do (Vidal et al. 2013).
func TestFinesAimAtFourInTen(t *testing.T) {
	children := func(held int) []bool {
		broken := make([]bool, 100)
		for i := held; i < 100; i++ {
			broken[i] = true
		}
		return broken
	}
	for _, c := range []struct {
		held int
		sign int
	}{{0, 1}, {20, 1}, {40, 0}, {60, -1}, {100, -1}} {
		now := adapted(1000, children(c.held))
		if (now > 1000) != (c.sign > 0) || (now < 1000) != (c.sign < 0) {
			t.Errorf("%d of 100 hold: from 1000 to %d", c.held, now)
		}
	}
	if adapted(1, children(100)) < 1 || adapted(1<<40, children(0)) > 1<<40 {
		t.Error("fines leave their bounds")
	}
}

// Suits leaves to the other engine what routes by themselves cannot say.
func TestSuits(t *testing.T) {
	plain := func() *search.Model {
		m := &search.Model{Days: 2, Rigs: []search.Rig{{}}}
		for range 8 {
			m.Visits = append(m.Visits, search.Visit{Where: []search.Choice{{Day: 0}, {Day: 1}}})
		}
		return m
	}
	if !Suits(plain()) {
		t.Fatal("a plain model does not suit")
	}
	for name, change := range map[string]func(*search.Model){
		"few visits":    func(m *search.Model) { m.Visits = m.Visits[:7] },
		"waits":         func(m *search.Model) { m.HasWait = true },
		"dirt":          func(m *search.Model) { m.HasDirt = true },
		"darkness":      func(m *search.Model) { m.Price.Late = 1 },
		"nights out":    func(m *search.Model) { m.Visits[3].MayStay = true },
		"split visits":  func(m *search.Model) { m.Visits[3].MinChunk = 900 },
		"two windows":   func(m *search.Model) { m.Visits[3].Where[1].Day = 0 },
		"standing away": func(m *search.Model) { m.Rigs[0].Standing = &search.Standing{} },
	} {
		m := plain()
		change(m)
		if Suits(m) {
			t.Errorf("%s suit", name)
		}
	}
}
