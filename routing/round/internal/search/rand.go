package search

import "math/rand/v2"

// NewRand is the generator for a seed and a worker: PCG, the same on every
// machine.
func NewRand(seed, worker uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, worker*0x9e3779b97f4a7c15+1))
}

// blinker overlooks things now and then (Christiaens & Vanden Berghe 2020).
type blinker struct {
	rng       *rand.Rand
	odds      uint32 // of 1024
	bits      uint64
	left      int
	backwards bool  // go through ways to split from the last
	turn      int32 // and begin at another one
}

// skip tells whether to overlook this one.
func (b *blinker) skip() bool {
	if b.odds == 0 {
		return false
	}
	if b.left == 0 {
		b.bits, b.left = b.rng.Uint64(), 6
	}
	roll := uint32(b.bits & 1023)
	b.bits >>= 10
	b.left--
	return roll < b.odds
}

// turns are enough to begin anywhere.
const turns = 1 << 16

// shift draws where to begin among ways that may be as cheap as one another:
// at the first, at the last, or anywhere.
func (b *blinker) shift() {
	b.backwards, b.turn = b.rng.IntN(2) == 0, 0
	if b.rng.IntN(2) == 0 {
		b.turn = b.rng.Int32N(turns)
	}
}

// from is the i-th of some ways as they are gone through.
func (b *blinker) from(i, ways int32) int32 {
	i = (i + b.turn) % ways
	if b.backwards {
		return ways - 1 - i
	}
	return i
}
