package search

import (
	"math/rand/v2"
	"sort"
)

// Ruin by slack induction by string removals (Christiaens & Vanden Berghe
// 2020, Transportation Science 54:417): strings of stops next to each other
// leave days that lie near each other.
const (
	meanRemoved = 6    // visits an average ruin takes out
	manyRemoved = 15   // and a large one
	manyOdds    = 0.1  // that a ruin is large, to get out of plans that small ones always lead back to
	maxString   = 10   // of one day
	splitOdds   = 0.5  // that a string keeps some stops in its middle
	deeper      = 0.01 // that it does not keep one more
	soonOdds    = 0.5  // that strings leave days about the seed's only
	tradeOdds   = 0.5  // that they leave days to which the seed could go only
	roomOdds    = 0.1  // that room is made for a visit left out, beside those drawn anyway
)

// ruiner takes visits out of a plan.
type ruiner struct {
	st    *State
	rng   *rand.Rand
	taken []dayOf // days that lost a string in this ruin
}

type dayOf struct{ rig, day int32 }

// nobody is no visit.
const nobody = -1

// ruin removes strings around a random visit, and returns it if it was left
// out before, else nobody. Near on the map is not near enough when the days are
// weeks apart: then nothing can trade places.
func (u *ruiner) ruin(many float64) int32 {
	u.taken = u.taken[:0]
	seed := u.seed()
	length, strings := u.sizes(many)
	at, soon, trade := u.st.where[seed], u.rng.Float64() < soonOdds, u.rng.Float64() < tradeOdds
	u.string(seed, length)
	for _, v := range u.st.m.Visits[seed].Near {
		if len(u.taken) >= strings {
			break
		}
		w := u.st.where[v]
		if trade && !u.st.m.Visits[seed].goes(w) || soon && at.Parts > 0 && (w.Day < at.Day-1 || w.Day > at.Day+1) {
			continue
		}
		u.string(v, length)
	}
	u.st.refreshTouched()
	if at.Parts > 0 {
		return nobody
	}
	return seed
}

func (u *ruiner) seed() int32 {
	if absent := u.st.absent; len(absent) > 0 && u.rng.Float64() < roomOdds {
		return absent[u.rng.IntN(len(absent))]
	}
	return int32(u.rng.IntN(len(u.st.where)))
}

// goes tells whether a visit may begin on the day of a rig where another is.
func (v *Visit) goes(w Where) bool {
	i := sort.Search(len(v.Where), func(i int) bool {
		c := &v.Where[i]
		return c.Rig > w.Rig || c.Rig == w.Rig && c.Day >= w.Day
	})
	return i < len(v.Where) && v.Where[i].Rig == w.Rig && v.Where[i].Day == w.Day
}

// sizes draws the longest string and the number of strings.
func (u *ruiner) sizes(many float64) (length float64, strings int) {
	length = min(maxString, u.st.meanStops())
	mean := float64(meanRemoved)
	if u.rng.Float64() < many {
		mean = manyRemoved
	}
	most := 4*mean/(1+length) - 1
	return length, int(u.rng.Float64()*most + 1)
}

// meanStops is the average number of stops on days that have any.
func (st *State) meanStops() float64 {
	days, stops := 0, 0
	for r := range st.rigs {
		if st.rigs[r].stops == 0 {
			continue
		}
		for _, x := range st.rigs[r].days {
			if k := len(x.stops); k > 0 {
				days++
				stops += k
			}
		}
	}
	return float64(stops) / float64(max(days, 1))
}

// string removes a string that holds v, unless its day has lost one already.
func (u *ruiner) string(v int32, length float64) {
	w := u.st.where[v]
	if w.Parts == 0 || u.has(w) {
		return
	}
	u.taken = append(u.taken, dayOf{w.Rig, w.Day})
	stops := u.st.rigs[w.Rig].days[w.Day].stops
	k := len(stops)
	n := int(u.rng.Float64()*min(float64(k), length)) + 1
	n = min(n, k)
	at := position(stops, v)
	if n > 1 && n < k && u.rng.Float64() < splitOdds {
		u.cutSplit(w, at, n, k)
		return
	}
	u.cut(w, u.begin(at, n, k), n, -1, 0)
}

func (u *ruiner) has(w Where) bool {
	for _, t := range u.taken {
		if t.rig == w.Rig && t.day == w.Day {
			return true
		}
	}
	return false
}

func position(stops []Stop, v int32) int {
	for i := range stops {
		if stops[i].Visit == v {
			return i
		}
	}
	return 0
}

// begin draws where a string of n of k stops that holds position at begins.
func (u *ruiner) begin(at, n, k int) int {
	lo, hi := max(0, at-n+1), min(at, k-n)
	return lo + u.rng.IntN(hi-lo+1)
}

// cutSplit removes n stops from a longer string and keeps its middle.
func (u *ruiner) cutSplit(w Where, at, n, k int) {
	kept := 1
	for n+kept < k && u.rng.Float64() > deeper {
		kept++
	}
	whole := n + kept
	from := u.begin(at, whole, k)
	u.cut(w, from, whole, from+1+u.rng.IntN(n-1), kept)
}

// cut removes n stops from one on, but keeps some from another on.
func (u *ruiner) cut(w Where, from, n, keepFrom, kept int) {
	var gone [64]int32
	list := gone[:0]
	for i, s := range u.st.rigs[w.Rig].days[w.Day].stops[from : from+n] {
		if p := from + i; p < keepFrom || p >= keepFrom+kept {
			list = append(list, s.Visit)
		}
	}
	for _, v := range list {
		u.st.remove(v)
	}
}
