package search

import (
	"math"
	"math/rand/v2"
)

// Heat is how much worse a plan may become in a step, in the mean, as a share
// of the mean price of a placed visit, so that problems of any currency cool
// alike.
const (
	hot  = 1.0
	cold = 0.01
)

// heat is what is left of a heat when so much of a search is over.
func heat(hot, share float64) float64 { return hot * math.Pow(cold/hot, share) }

// Search improves a plan by ruin and recreate.
type Search struct {
	st      *State
	unit    float64 // the mean price of a placed visit at first
	rng     *rand.Rand
	ruiner  ruiner
	builder *builder
	best    Snapshot
	news    *news // for others; nil when there are none
}

// New starts a search from a state, which it owns from now on.
func New(st *State, rng *rand.Rand) *Search {
	s := &Search{st: st, unit: st.unit(), rng: rng, ruiner: ruiner{st: st, rng: rng}, builder: newBuilder(st, rng)}
	s.best = st.Snapshot()
	return s
}

// Build places what is left out, first what would lose most by waiting.
func (st *State) Build() {
	newBuilder(st, nil).rebuild(nobody)
	st.Keep()
}

// Best is the best plan so far.
func (s *Search) Best() Snapshot { return s.best }

// often is how many iterations pass between looks at the clock.
const often = 16

// Run anneals. passed tells how much of the search is over and ends it at 1;
// between looks, every so many iterations, done is told how many.
func (s *Search) Run(passed func() float64, done func(iterations int)) {
	if len(s.st.where) == 0 {
		return
	}
	for share := passed(); share < 1; share = passed() {
		s.steps(often, heat(hot, share))
		done(often)
	}
}

// unit is the mean price of a placed visit.
func (st *State) unit() float64 {
	cost, placed := st.cost, len(st.where)-len(st.absent)
	for _, v := range st.absent {
		cost -= st.m.Visits[v].Absent
	}
	return float64(max(cost, 1)) / float64(max(placed, 1))
}

func (s *Search) steps(n int, heat float64) {
	for range n {
		s.step(heat, manyOdds)
	}
}

// step tries one change. many is the chance that it is a large one.
func (s *Search) step(heat, many float64) {
	before := s.st.cost
	s.builder.rebuild(s.ruiner.ruin(many))
	s.judge(before, -heat*s.unit*math.Log(1-s.rng.Float64()))
	if s.st.cost < s.best.Cost {
		s.best = s.st.Snapshot()
	}
}

// judge keeps what has changed when it costs less than so much more than
// before.
func (s *Search) judge(before int64, allow float64) {
	if float64(s.st.cost) >= float64(before)+allow {
		s.st.Undo()
		return
	}
	if s.news != nil {
		s.news.add(s.st, allow)
	}
	s.st.Keep()
}
