package search

import (
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// best is the cheapest spot for a visit.
func (st *State) best(v int32, blink *blinker) spot {
	best := spot{delta: none}
	for r := range st.rigs {
		if o := st.look(v, int32(r), best.delta, blink); o.first.delta < best.delta {
			best = o.first
		}
	}
	return best
}

// What visits wish for stays their best, and what they would lose stays their
// next best on another day, whatever is granted to others.
func TestWishesStayTrue(t *testing.T) {
	granted := 0
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		if rapid.Bool().Draw(t, "twins") {
			m.twins()
		}
		m.secondWindows()
		st := NewState(m)
		b := newBuilder(st, nil)
		b.list(nobody)
		for i := b.next(); i >= 0; i = b.next() {
			b.checkWishes(t)
			b.grant(b.drop(i))
			if st.cost >= none {
				t.Skip("the plan became impossible")
			}
			granted++
		}
	})
	if granted == 0 {
		t.Error("no wish was ever granted")
	}
}

func (b *builder) checkWishes(t *rapid.T) {
	for i := range b.wishes {
		w := &b.wishes[i]
		all := b.st.byDay(w.visit)
		if w.first.delta != all[0] || w.second != all[1] {
			t.Fatalf("visit %d wishes for what adds %d, or else %d, and could have %v", w.visit, w.first.delta, w.second, all)
		}
	}
}

// secondWindows lets every visit begin later on the same days, too.
func (m *Model) secondWindows() {
	for i := range m.Visits {
		var where []Choice
		for _, c := range m.Visits[i].Where {
			where = append(where, c, Choice{Rig: c.Rig, Day: c.Day, Early: c.Late + 1, Late: c.Late + 30, Extra: c.Extra + 1})
		}
		m.Visits[i].Where = where
	}
}

// byDay is what a visit adds at the least on each day of each rig, the least
// first, and none twice at the end.
func (st *State) byDay(v int32) []int64 {
	least := map[Choice]int64{}
	for i, c := range st.m.Visits[v].Where {
		on, at := Choice{Rig: c.Rig, Day: c.Day}, spot{delta: none}
		t := st.trial(v, c.Rig, &blinker{})
		t.seen = st.memory(v)
		if !st.doubled(c.Rig) && t.consider(i, &at) {
			if was, ok := least[on]; !ok || at.delta < was {
				least[on] = at.delta
			}
		}
	}
	return append(slices.Sorted(maps.Values(least)), none, none)
}
