package evolve

import (
	"math/rand/v2"
	"slices"
)

// Sizes as in Vidal (2022), Computers & Operations Research 140:105643.
const (
	smallest = 25 // plans of a kind that survive
	brood    = 40 // plans added before the next selection
	elite    = 4
	closeBy  = 5
)

// population keeps plans that hold and plans that do not.
type population struct {
	n       int
	holding []*plan
	broken  []*plan
	fines   *fines
}

// add takes a plan in, and thins its kind out when there are enough.
func (pop *population) add(p *plan) {
	p.link(pop.n)
	kind := &pop.broken
	if p.holds() {
		kind = &pop.holding
	}
	for _, q := range *kind {
		d := apart(p, q)
		p.near = placeIn(p.near, closeTo{d, q})
		q.near = placeIn(q.near, closeTo{d, p})
	}
	*kind = append(*kind, p)
	if len(*kind) > smallest+brood {
		for len(*kind) > smallest {
			pop.dropOne(kind)
		}
	}
}

func placeIn(near []closeTo, c closeTo) []closeTo {
	i, _ := slices.BinarySearchFunc(near, c, func(a, b closeTo) int {
		if a.apart <= b.apart {
			return -1
		}
		return 1
	})
	return slices.Insert(near, i, c)
}

// dropOne removes a clone, or else the plan that is worst by cost and by what
// it adds to the variety.
func (pop *population) dropOne(kind *[]*plan) {
	pop.rate(*kind)
	worst, clone := -1, false
	for i, p := range *kind {
		twin := len(p.near) > 0 && p.near[0].apart < 1e-9
		if worst < 0 || twin && !clone || twin == clone && p.score > (*kind)[worst].score {
			worst, clone = i, twin
		}
	}
	gone := (*kind)[worst]
	*kind = slices.Delete(*kind, worst, worst+1)
	for _, p := range *kind {
		p.near = slices.DeleteFunc(p.near, func(c closeTo) bool { return c.p == gone })
	}
}

// rate scores plans by their rank in cost and in variety.
func (pop *population) rate(kind []*plan) {
	slices.SortStableFunc(kind, func(a, b *plan) int {
		return compare(a.fined(*pop.fines), b.fined(*pop.fines))
	})
	byVariety := make([]int, len(kind))
	for i := range byVariety {
		byVariety[i] = i
	}
	variety := make([]float64, len(kind))
	for i, p := range kind {
		variety[i] = p.variety()
	}
	slices.SortStableFunc(byVariety, func(a, b int) int { return compare(variety[b], variety[a]) })
	size := float64(len(kind))
	for rank, i := range byVariety {
		share := 1 - min(elite, size)/size
		kind[i].score = float64(i)/size + share*float64(rank)/size
	}
}

func compare[T int64 | float64](a, b T) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// variety is the mean distance to the nearest plans.
func (p *plan) variety() float64 {
	k := min(closeBy, len(p.near))
	sum := 0.0
	for _, c := range p.near[:k] {
		sum += c.apart
	}
	return sum / float64(max(k, 1))
}

// parents draws two by binary tournament.
func (pop *population) parents(rng *rand.Rand) (*plan, *plan) {
	pop.rate(pop.holding)
	pop.rate(pop.broken)
	one := pop.pick(rng)
	other := pop.pick(rng)
	for try := 0; other == one && try < 10; try++ {
		other = pop.pick(rng)
	}
	return one, other
}

func (pop *population) pick(rng *rand.Rand) *plan {
	draw := func() *plan {
		i := rng.IntN(len(pop.holding) + len(pop.broken))
		if i < len(pop.holding) {
			return pop.holding[i]
		}
		return pop.broken[i-len(pop.holding)]
	}
	a, b := draw(), draw()
	if b.score < a.score {
		return b
	}
	return a
}
