package search

import (
	"math/rand/v2"
	"sort"
)

// blinkOdds of 1024 is the chance to overlook a choice: about one in a
// hundred.
const blinkOdds = 10

// builder puts the visits left out back, one after the other, each at its
// cheapest place.
type builder struct {
	st    *State
	rng   *rand.Rand
	blink blinker
	keys  []float64
	order []int32
}

// newBuilder makes a builder; with rng nil it never blinks.
func newBuilder(st *State, rng *rand.Rand) *builder {
	b := &builder{st: st, rng: rng, keys: make([]float64, len(st.where))}
	if rng != nil {
		b.blink = blinker{rng: rng, odds: blinkOdds}
	}
	return b
}

// rebuild inserts in the order of a drawn rule.
func (b *builder) rebuild() {
	b.rank(b.draw())
	for _, v := range b.order {
		b.insert(v)
	}
}

func (b *builder) insert(v int32) {
	at := b.st.best(v, &b.blink)
	if at.delta >= none || at.delta >= b.st.m.Visits[v].Absent {
		return
	}
	for i, a := range b.st.absent {
		if a == v {
			b.st.insert(i, at)
			return
		}
	}
}

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
	for _, v := range b.order {
		b.keys[v] = b.key(v, by)
	}
	sort.SliceStable(b.order, func(i, j int) bool { return b.keys[b.order[i]] < b.keys[b.order[j]] })
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
