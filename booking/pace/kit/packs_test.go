package kit

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Worked by hand.
func TestWholePacks(t *testing.T) {
	for _, c := range []struct {
		need  int
		sizes []int
		want  []Pack
	}{
		{250, []int{250}, []Pack{{250, 1}}},
		{251, []int{250}, []Pack{{250, 2}}},
		{1838, []int{1000, 2500}, []Pack{{1000, 2}}},
		{2200, []int{1000, 2500}, []Pack{{2500, 1}}},
		{5000, []int{1000, 2500, 2500}, []Pack{{2500, 2}}},
		{600, []int{500, 300}, []Pack{{300, 2}}},
		{9990, []int{1000, 999}, []Pack{{999, 10}}},
		{2_000_000, []int{5000}, []Pack{{5000, 400}}},
		{0, []int{5000}, nil},
	} {
		if got := wholePacks(c.need, c.sizes); !slices.Equal(got, c.want) {
			t.Errorf("%d mL of %v: %v, want %v", c.need, c.sizes, got, c.want)
		}
	}
}

// Every mix of packs is tried in the plainest way; none leaves less over, and
// none with as little over needs fewer packs.
func TestNoMixOfPacksIsBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		need := rapid.IntRange(1, 400).Draw(t, "need")
		sizes := rapid.SliceOfN(rapid.IntRange(20, 300), 1, 3).Draw(t, "sizes")
		over, packs := -need, 0
		for _, p := range wholePacks(need, sizes) {
			over += p.Size * p.Count
			packs += p.Count
		}
		if over < 0 {
			t.Fatalf("%d mL too little", -over)
		}
		bestOver, bestPacks := tryAll(need, sizes)
		if over != bestOver || packs != bestPacks {
			t.Fatalf("%d over in %d packs; %d over in %d can be had", over, packs, bestOver, bestPacks)
		}
	})
}

func tryAll(left int, sizes []int) (over, packs int) {
	if left <= 0 {
		return -left, 0
	}
	over = 1 << 30
	for i, size := range sizes {
		o, p := tryAll(left-size, sizes[i:])
		if o < over || o == over && p+1 < packs {
			over, packs = o, p+1
		}
	}
	return over, packs
}
