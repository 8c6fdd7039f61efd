package search

import (
	"context"
	"math"
	"math/rand/v2"
)

// Temperatures are shares of the mean price of a placed visit, so that
// problems of any size and currency cool alike.
const (
	hot  = 1.0
	cold = 0.01
)

// Run is what a search is told.
type Run struct {
	Iterations int
	Share      func() float64      // of the time allowed that has passed, 0..1; nil = no limit
	Better     func(iteration int) // a better plan was found; may be nil
}

// Search improves a plan.
type Search struct {
	st      *State
	rng     *rand.Rand
	ruiner  ruiner
	builder *builder
	best    Snapshot
	done    int
}

// New starts a search from a state, which it owns from now on.
func New(st *State, rng *rand.Rand) *Search {
	s := &Search{st: st, rng: rng, ruiner: ruiner{st: st, rng: rng}, builder: newBuilder(st, rng)}
	s.best = st.Snapshot()
	return s
}

// Build places what is left out by cheapest insertion, hardest first.
func (st *State) Build() {
	newBuilder(st, nil).rebuild()
	st.Keep()
}

// Best is the best plan so far.
func (s *Search) Best() Snapshot { return s.best }

// Done is the number of iterations made.
func (s *Search) Done() int { return s.done }

// often is how many iterations pass between looks at clock and context.
const often = 16

// Run anneals by ruin and recreate. It tells whether it came to the end of
// its iterations.
func (s *Search) Run(ctx context.Context, run Run) bool {
	if len(s.st.where) == 0 {
		return true
	}
	share := 0.0
	unit := s.unit()
	temp := unit * hot
	for i := range run.Iterations {
		if i%often == 0 {
			share = float64(i) / float64(run.Iterations)
			if run.Share != nil {
				share = max(share, run.Share())
			}
			if share >= 1 || ctx.Err() != nil {
				return false
			}
			temp = unit * hot * math.Pow(cold/hot, share)
		}
		s.step(temp)
		if s.st.cost < s.best.Cost {
			s.best = s.st.Snapshot()
			if run.Better != nil {
				run.Better(i)
			}
		}
	}
	return true
}

// unit is the mean price of a placed visit.
func (s *Search) unit() float64 {
	cost, placed := s.st.cost, len(s.st.where)-len(s.st.absent)
	for _, v := range s.st.absent {
		cost -= s.st.m.Visits[v].Absent
	}
	return float64(max(cost, 1)) / float64(max(placed, 1))
}

func (s *Search) step(temp float64) {
	s.done++
	before := s.st.cost
	s.ruiner.ruin()
	s.builder.rebuild()
	limit := float64(before) - temp*math.Log(1-s.rng.Float64())
	if float64(s.st.cost) < limit {
		s.st.Keep()
	} else {
		s.st.Undo()
	}
}
