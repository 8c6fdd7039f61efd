package search

import (
	"testing"

	"pgregory.net/rapid"
)

// The days that were looked at anew, because they saw a change, look as all
// days do when every one is looked at: those that were passed over would have
// looked the same.
func TestDaysPassedOverLookTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := NewState(drawModel(t))
		st.changed(t, func() { st.checkViews(t) })
	})
}

func (st *State) checkViews(t *rapid.T) {
	for r := range st.rigs {
		rs := &st.rigs[r]
		if rs.single {
			continue
		}
		was := append([]views(nil), rs.views...)
		st.chart(r, 0, len(rs.days)-1)
		for d := range was {
			if was[d] != rs.views[d] {
				t.Fatalf("rig %d looks different on day %d when all days are looked at", r, d)
			}
		}
	}
}

// Nights look the same when all kinds become dearer by the same, whether or
// not some kind is impossible.
func TestNightsLookTheSameWhenAllAreDearer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var nights, dearer [states]int64
		by := rapid.Int64Range(1, 1e12).Draw(t, "dearer by")
		for s := range states {
			nights[s], dearer[s] = none, none
			if rapid.IntRange(0, 3).Draw(t, "possible") > 0 {
				nights[s] = rapid.Int64Range(0, 1e12).Draw(t, "cost")
				dearer[s] = nights[s] + by
			}
		}
		rs := &rigState{}
		if rs.shape(&nights) != rs.shape(&dearer) {
			t.Fatalf("%v looks different from %v", nights, dearer)
		}
	})
}

// Days and nights made of small numbers, as those of small prices and few
// visits are, all look different, and none looks like nothing at all.
func TestSmallNumbersLookDifferent(t *testing.T) {
	rs := &rigState{}
	looks := map[uint64][3]int64{0: {}}
	for at := range int64(40) {
		alone := mix(stamp(nil), uint64(at))
		for solo := range int64(40) {
			for lodge := range int64(40) {
				is := [3]int64{at, solo, lodge}
				look := mix(alone, rs.shape(&[states]int64{0, solo, lodge}))
				if other, known := looks[look]; known {
					t.Fatalf("%v looks like %v", is, other)
				}
				looks[look] = is
			}
		}
	}
}
