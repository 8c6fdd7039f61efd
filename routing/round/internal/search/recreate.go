package search

import (
	"math/rand/v2"
	"sort"
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
// cheapest place.
type builder struct {
	st    *State
	rng   *rand.Rand
	blink blinker
	keys  []float64
	order []int32
	eager bool // this time, visits that do not pay alone may get a place
}

// eagerOdds: one rebuilding in so many tries visits that pay only together,
// such as neighbours that share a set-up or a night out.
const eagerOdds = 5

// newBuilder makes a builder; with rng nil it never blinks.
func newBuilder(st *State, rng *rand.Rand) *builder {
	b := &builder{st: st, rng: rng, keys: make([]float64, len(st.where))}
	b.blink.rng = rng
	return b
}

// rebuild inserts in the order of a drawn rule.
func (b *builder) rebuild() {
	b.rank(b.draw())
	if b.rng != nil {
		b.eager = b.rng.IntN(eagerOdds) == 0
		b.blink.odds = blinkOdds
		b.blink.shift()
		if b.rng.IntN(drowsyOdds) == 0 {
			b.blink.odds = drowsyBlinks
		}
	}
	for _, v := range b.order {
		b.insert(v)
	}
}

// Visits that were left out before are tried again in every rebuilding, beside
// those just taken out, while they are few; of many, one that is drawn: each
// is tried on all its days.
const fewWaiting = 8

func (b *builder) insert(v int32) {
	at := b.st.best(v, &b.blink)
	if at.delta >= none || at.delta >= b.st.m.Visits[v].Absent && !b.coax() {
		return
	}
	for i, a := range b.st.absent {
		if a == v {
			b.st.insert(i, at)
			return
		}
	}
}

// coax tells whether to place a visit that costs more than its value.
func (b *builder) coax() bool { return b.eager && b.rng.IntN(2) == 0 }

// rule is an order of insertion: the smallest key first.
type rule int

const (
	atRandom rule = iota
	longest
	farthest
	nearest
	tightest
	earliest
	dearest
)

// draw picks a rule with the weights of the paper, for problems with windows.
func (b *builder) draw() rule {
	if b.rng == nil {
		return tightest
	}
	weights := [...]int{atRandom: 4, longest: 3, farthest: 2, nearest: 1, tightest: 2, earliest: 2, dearest: 1}
	n := b.rng.IntN(15)
	for r, w := range weights {
		if n -= w; n < 0 {
			return rule(r)
		}
	}
	return atRandom
}

func (b *builder) rank(by rule) {
	b.order = append(b.order[:0], b.st.absent...)
	if b.rng != nil {
		b.sample()
	}
	for _, v := range b.order {
		b.keys[v] = b.key(v, by)
	}
	sort.SliceStable(b.order, func(i, j int) bool { return b.keys[b.order[i]] < b.keys[b.order[j]] })
}

// sample keeps the visits just taken out, which come last, and of many that
// were left out before only one.
func (b *builder) sample() {
	waiting := len(b.order) - len(b.st.gone)
	if waiting <= fewWaiting {
		return
	}
	b.order[0] = b.order[b.rng.IntN(waiting)]
	b.order = append(b.order[:1], b.order[waiting:]...)
}

func (b *builder) key(v int32, by rule) float64 {
	vis := &b.st.m.Visits[v]
	switch by {
	case longest:
		return -vis.Rank.Work
	case farthest:
		return -vis.Rank.Far
	case nearest:
		return vis.Rank.Far
	case tightest:
		return vis.Rank.Room
	case earliest:
		return vis.Rank.Until
	case dearest:
		return -float64(vis.Absent)
	}
	return b.rng.Float64()
}
