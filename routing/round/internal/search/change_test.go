package search

import (
	"testing"

	"pgregory.net/rapid"
)

// A class may come on just the days that keep its waits, whatever was put in
// and taken out before: each day of the rig is looked at for each.
func TestWaitsAreKeptToEveryOtherDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		for c := range m.Wait {
			for other := range m.Wait[c] {
				m.Wait[c][other] = rapid.IntRange(0, 3).Draw(t, "wait")
			}
		}
		st := NewState(m)
		st.changed(t, func() { st.checkWaits(t) })
	})
}

func (st *State) checkWaits(t *rapid.T) {
	for r := range st.rigs {
		for d := range st.m.Days {
			for c := range uint8(Classes) {
				if got, want := st.mayWait(r, d, c), st.waitsKept(r, d, c); got != want {
					t.Fatalf("class %d on day %d of rig %d: %v, not %v", c, d, r, got, want)
				}
			}
		}
	}
}

func (st *State) waitsKept(r, d int, c uint8) bool {
	for e := range st.m.Days {
		for _, s := range st.rigs[r].days[e].stops {
			other := st.m.Visits[s.Visit].Class
			if e < d && d-e < st.m.Wait[other][c] || e > d && e-d < st.m.Wait[c][other] {
				return false
			}
		}
	}
	return true
}
