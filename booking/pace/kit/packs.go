package kit

import (
	"math"
	"slices"
)

// Pack is a number of packs of one size.
type Pack struct {
	Size  int `json:"size"` // mL
	Count int `json:"count"`
}

// triedML is up to where every mix of packs is tried; beyond, the largest size
// takes the bulk.
const triedML = 250_000

// wholePacks covers what is needed with whole packs: as little left over as can
// be, then as few packs as can be.
func wholePacks(need int, sizes []int) []Pack {
	sizes = slices.Clone(sizes)
	slices.Sort(sizes)
	sizes = slices.Compact(sizes)
	slices.Reverse(sizes)
	bulk := max(0, (need-triedML)/sizes[0])
	counts := fewestPacks(need-bulk*sizes[0], sizes)
	counts[0] += bulk
	var out []Pack
	for i, n := range counts {
		if n > 0 {
			out = append(out, Pack{sizes[i], n})
		}
	}
	return out
}

// fewestPacks finds, for every amount up to one smallest pack more than needed,
// the fewest packs that hold exactly that; the least amount that is enough wins.
// A mix with more left over could drop a pack.
func fewestPacks(need int, sizes []int) []int {
	smallest := sizes[len(sizes)-1]
	fewest := make([]int, need+smallest)
	last := make([]int, need+smallest) // the size put in last
	for ml := 1; ml < len(fewest); ml++ {
		fewest[ml] = math.MaxInt
		for i, size := range sizes {
			if ml >= size && fewest[ml-size] < fewest[ml]-1 {
				fewest[ml], last[ml] = fewest[ml-size]+1, i
			}
		}
	}
	counts := make([]int, len(sizes))
	for ml := need; ; ml++ {
		if fewest[ml] == math.MaxInt {
			continue
		}
		for ; ml > 0; ml -= sizes[last[ml]] {
			counts[last[ml]]++
		}
		return counts
	}
}
