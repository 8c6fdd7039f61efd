package search

import (
	"math/rand/v2"
	"slices"
)

// blinkOdds of 1024 is the chance to overlook a choice: about one in a
// hundred.
// Now and then it is one in five, to get out of choices that are cheap alone
// but stand in the way of others.
const (
	blinkOdds    = 10
	drowsyBlinks = 205
	drowsyOdds   = 16
)

// builder puts the visits left out back, one after the other, each at its
// cheapest place. First comes the one that would lose most if it had to take
// its next best (regret insertion: Potvin & Rousseau 1993, European Journal of
// Operational Research 66:331).
type builder struct {
	st     *State
	rng    *rand.Rand
	blink  blinker
	wishes []wish
	eager  bool // this time, visits that do not pay alone may get a place
}

// One rebuilding in so many is eager: it tries visits that pay only together,
// such as neighbours that share a set-up or a night out. Then all come in any
// order, or those that do not pay alone would always be the last. It is one
// fewer in so many for every few visits: large problems were found to be
// better off with less of it.
const (
	eagerOdds   = 3
	eagerVisits = 16
)

// newBuilder makes a builder; with rng nil it never blinks.
func newBuilder(st *State, rng *rand.Rand) *builder {
	b := &builder{st: st, rng: rng}
	b.blink.rng = rng
	return b
}

// rebuild puts back what has a place that pays. room is the visit left out
// before for which room was made, or nobody.
func (b *builder) rebuild(room int32) {
	b.draw()
	b.list(room)
	for i := b.next(); i >= 0; i = b.next() {
		w := b.drop(i)
		if w.first.delta < b.st.m.Visits[w.visit].Absent || b.coax() {
			b.grant(w)
		}
	}
}

// draw sets how this rebuilding differs from others.
func (b *builder) draw() {
	if b.rng == nil {
		return
	}
	b.eager = b.rng.IntN(eagerOdds+len(b.st.where)/eagerVisits) == 0
	b.blink.odds = blinkOdds
	b.blink.shift()
	if b.rng.IntN(drowsyOdds) == 0 {
		b.blink.odds = drowsyBlinks
	}
}

// Visits that were left out before are tried again in every rebuilding, beside
// those just taken out, while they are few; of many, the one for which room was
// made, or one that is drawn: each is tried on all its days.
const fewWaiting = 8

// list makes a wish of each visit just taken out, which come last, and of
// those left out before.
func (b *builder) list(room int32) {
	b.wishes = b.wishes[:0]
	absent := b.st.absent
	waiting := len(absent) - len(b.st.gone)
	if b.rng != nil && waiting > fewWaiting {
		if room == nobody {
			room = absent[b.rng.IntN(waiting)]
		}
		b.wish(room)
		absent = absent[waiting:]
	}
	for _, v := range absent {
		b.wish(v)
	}
}

// wish lists a visit. Lists of options are used again.
func (b *builder) wish(v int32) {
	n := len(b.wishes)
	b.wishes = slices.Grow(b.wishes, 1)[:n+1]
	w := &b.wishes[n]
	w.visit, w.weight, w.options = v, b.weigh(), w.options[:0]
	for range b.st.rigs {
		w.options = append(w.options, option{limit: unsure})
	}
	b.settle(w)
}

// uneven is by how much of it what a visit would lose is taken for more or
// less, so that rebuilding is not always the same.
const uneven = 0.3

func (b *builder) weigh() float64 {
	if b.rng == nil {
		return 1
	}
	return 1 + uneven*(2*b.rng.Float64()-1)
}

// next is the wish whose turn it is; -1 when none has a place.
func (b *builder) next() int {
	pick, most := -1, 0.0
	for i := range b.wishes {
		w := &b.wishes[i]
		if w.first.delta >= none {
			continue
		}
		if turn := b.turn(w); pick < 0 || turn > most {
			pick, most = i, turn
		}
	}
	return pick
}

// turn is greatest for the wish that comes first.
func (b *builder) turn(w *wish) float64 {
	if b.eager {
		return w.weight
	}
	return w.weight * float64(min(w.second, b.st.m.Visits[w.visit].Absent)-w.first.delta)
}

// drop takes a wish off the list; it is good until the next is listed.
func (b *builder) drop(i int) *wish {
	last := len(b.wishes) - 1
	b.wishes[i], b.wishes[last] = b.wishes[last], b.wishes[i]
	b.wishes = b.wishes[:last]
	return &b.wishes[:last+1][last]
}

// coax tells whether to place a visit that costs more than its value.
func (b *builder) coax() bool { return b.eager && b.rng.IntN(2) == 0 }

// grant gives a visit its place, and looks anew at what the rig, and its twins
// that stood in for each other until then, have for others.
func (b *builder) grant(w *wish) {
	st := b.st
	rig := st.m.Visits[w.visit].Where[w.first.choice].Rig
	opened := st.rigs[rig].stops == 0
	st.insert(st.absentIndex(w.visit), w.first)
	for r := range st.rigs {
		if r == int(rig) || opened && st.m.Rigs[r].Twin == int(rig) {
			b.forget(r)
		}
	}
	for i := range b.wishes {
		b.settle(&b.wishes[i])
	}
}

// forget makes every wish ask a rig anew.
func (b *builder) forget(r int) {
	for i := range b.wishes {
		b.wishes[i].options[r].limit = unsure
	}
}
