package search

import "math/rand/v2"

// NewRand is the generator for a seed and a worker: PCG, the same on every
// machine.
func NewRand(seed, worker uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, worker*0x9e3779b97f4a7c15+1))
}

// blinker overlooks things now and then (Christiaens & Vanden Berghe 2020).
type blinker struct {
	rng  *rand.Rand
	odds uint32 // of 1024
	bits uint64
	left int
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
