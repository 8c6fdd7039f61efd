package search

import (
	"testing"

	"pgregory.net/rapid"
)

// A bit is found among those from one up to another, whatever words they are
// in: each is looked at alone.
func TestAnyBitAmongThose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.IntRange(1, 3).Draw(t, "words")
		bits := make([]uint64, words)
		for range rapid.IntRange(0, 3).Draw(t, "set") {
			at := rapid.IntRange(0, 64*words-1).Draw(t, "bit")
			bits[at/64] |= 1 << (at % 64)
		}
		from := rapid.IntRange(0, 64*words).Draw(t, "from")
		to := rapid.IntRange(0, 64*words).Draw(t, "to")
		want := false
		for at := from; at < to; at++ {
			want = want || bits[at/64]>>(at%64)&1 == 1
		}
		if got := anyBit(bits, from, to); got != want {
			t.Fatalf("%x from %d to %d: %v, not %v", bits, from, to, got, want)
		}
	})
}
