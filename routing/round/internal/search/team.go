package search

import (
	"math/rand/v2"
	"slices"
	"sync"
)

// Team improves a plan with several searches side by side. The rigs are dealt
// out among them again and again; each search changes only days of its own,
// so that what all of them found makes one plan.
type Team struct {
	rng     *rand.Rand
	rigs    []int
	members []*Search
	unit    float64
	now     Snapshot
	waiting []int32 // visits left out of it
	best    Snapshot
}

// A team works when there are enough rigs and visits for two searches. Its
// size does not depend on the machine, so that its plans do not either.
const (
	rigsEach   = 2
	visitsEach = 40
)

// NewTeam starts from a plan; nil when it is too small for a team.
func NewTeam(st *State, seed uint64) *Team {
	size := min(len(st.rigs)/rigsEach, len(st.visits)/visitsEach)
	if size < 2 {
		return nil
	}
	t := &Team{rng: NewRand(seed, 2), unit: st.unit(), now: st.Snapshot(), waiting: slices.Clone(st.absent)}
	t.best = t.now
	for r := range st.rigs {
		t.rigs = append(t.rigs, r)
	}
	for i := range size {
		t.members = append(t.members, New(NewState(st.m), NewRand(seed, uint64(3+i))))
	}
	return t
}

// Best is the best plan so far.
func (t *Team) Best() Snapshot { return t.best }

// turn is how often a search looks at a rig before rigs are dealt anew. That is
// what takes the time: a search with more rigs does fewer steps meanwhile, and
// none waits long for the others.
const turn = 16000

// Run anneals as a Search does.
func (t *Team) Run(passed func() float64, done func(iterations int)) {
	for share := passed(); share < 1; share = passed() {
		shuffle(t.rng, t.rigs)
		shuffle(t.rng, t.waiting)
		steps := t.work(temperature(t.unit, share))
		t.gather()
		done(steps)
	}
}

func shuffle[T any](rng *rand.Rand, list []T) {
	rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
}

// share is the i-th of so many parts of a list, as long as one another but
// for one.
func share[T any](list []T, i, of int) []T {
	return list[i*len(list)/of : (i+1)*len(list)/of]
}

// take makes a search one of some rigs and their visits, and of others that
// wait.
func (s *Search) take(plan Snapshot, rigs []int, waiting []int32) {
	st := s.st
	st.clear()
	for r := range st.rigs {
		st.rigs[r].away = !slices.Contains(rigs, r)
	}
	st.visits = append(st.visits[:0], waiting...)
	for _, p := range plan.days {
		for i := range p.stops {
			if !st.rigs[p.rig].away && p.stops[i].Part == 1 {
				st.visits = append(st.visits, p.stops[i].Visit)
			}
		}
	}
	slices.Sort(st.visits)
	st.restore(plan)
	s.best = st.Snapshot()
}

// work deals every search its rigs, what they do, and some of the visits left
// out, lets it have its turn, and counts the steps. A search that panics does
// so in the caller's goroutine.
func (t *Team) work(temp float64) (steps int) {
	var all sync.WaitGroup
	trouble, did := make([]any, len(t.members)), make([]int, len(t.members))
	for i, s := range t.members {
		all.Add(1)
		go func() {
			defer all.Done()
			defer func() { trouble[i] = recover() }()
			s.take(t.now, share(t.rigs, i, len(did)), share(t.waiting, i, len(did)))
			did[i] = s.turn(temp)
		}()
	}
	all.Wait()
	for i, what := range trouble {
		if what != nil {
			panic(what)
		}
		steps += did[i]
	}
	return steps
}

// turn does steps until it was this search's turn.
func (s *Search) turn(temp float64) (steps int) {
	if len(s.st.visits) == 0 {
		return 0
	}
	for until := s.st.looks + turn; s.st.looks < until; steps++ {
		s.step(temp)
	}
	return steps
}

// gather puts together what the searches have, and the best of each.
func (t *Team) gather() {
	var best Snapshot
	t.now, t.waiting = Snapshot{}, t.waiting[:0]
	for _, s := range t.members {
		t.now.join(s.st.Snapshot())
		best.join(s.best)
		t.waiting = append(t.waiting, s.st.absent...)
	}
	if best.Cost < t.best.Cost {
		t.best = best
	}
}

// join adds the days of other rigs and what they cost.
func (snap *Snapshot) join(other Snapshot) {
	snap.Cost += other.Cost
	snap.days = append(snap.days, other.days...)
}
