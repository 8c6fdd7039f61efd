package evolve

import (
	"math/rand/v2"

	"drawbar/routing/round/internal/search"
)

// Search evolves plans.
type Search struct {
	w                      *world
	rng                    *rand.Rand
	local                  *local
	pop                    population
	fines                  fines
	best                   *plan
	born                   int
	recentLate, recentOver []bool // which of the last children were late, overloaded
}

// New starts from nothing but a model that Suits.
func New(m *search.Model, rng *rand.Rand) *Search {
	s := &Search{w: newWorld(m), rng: rng}
	s.local = newLocal(s.w, rng)
	s.fines = s.w.fines()
	s.pop = population{n: s.w.n, fines: &s.fines}
	return s
}

// fines start at about what a second and a unit of load cost on the way.
func (w *world) fines() fines {
	g := w.routes[0].g
	var money, dur int64
	for i := range g.dur {
		if g.dur[i] < 1<<20 {
			money += g.money[i]
			dur += int64(g.dur[i])
		}
	}
	perSecond := max(1, money/max(dur, 1))
	return fines{late: perSecond, load: max(1, 20*money/int64(max(len(g.dur), 1))/100)}
}

// Adopt takes a plan found elsewhere into the population.
func (s *Search) Adopt(snap search.Snapshot) {
	p := s.w.plan(snap)
	s.local.fines = s.fines
	s.local.load(p)
	s.local.store(p)
	s.keep(p)
}

// plan reads a snapshot.
func (w *world) plan(snap search.Snapshot) *plan {
	p := &plan{routes: make([][]int32, len(w.routes))}
	for i, r := range w.routes {
		for _, stop := range snap.Stops(r.rig, r.day) {
			p.routes[i] = append(p.routes[i], stop.Visit)
		}
	}
	return p
}

// Best is the best plan that holds, if there is one.
func (s *Search) Best() (search.Snapshot, bool) {
	if s.best == nil {
		return search.Snapshot{}, false
	}
	snap := search.Snapshot{Cost: s.best.cost}
	for i, seq := range s.best.routes {
		r := &s.w.routes[i]
		var stops []search.Stop
		for _, v := range seq {
			n := &s.w.nodes[r.kind][v]
			c := s.w.m.Visits[v].Where[n.choice]
			stops = append(stops, s.w.m.Whole(v, &c))
		}
		snap.Add(r.rig, r.day, stops)
	}
	return snap, true
}

// random throws visits onto routes.
func (s *Search) random() *plan {
	p := &plan{routes: make([][]int32, len(s.w.routes))}
	perm := s.rng.Perm(s.w.n)
	used := 1 + s.rng.IntN(len(p.routes))
	for _, v := range perm {
		at := s.rng.IntN(used)
		if s.w.nodes[s.w.routes[at].kind][v].choice >= 0 {
			p.routes[at] = append(p.routes[at], int32(v))
		}
	}
	return p
}

// founders is how many random plans come before the first child.
const founders = 50

// Step makes a founder or, when there are enough, a child.
func (s *Search) Step() {
	s.born++
	if s.born <= founders {
		s.educate(s.random())
		return
	}
	father, mother := s.pop.parents(s.rng)
	s.educate(s.w.cross(father, mother, s.rng))
	if s.born%adaptEvery == 0 {
		s.adapt()
	}
}

// educate improves a plan, takes it in, and now and then mends what breaks it.
func (s *Search) educate(p *plan) {
	s.local.fines = s.fines
	s.local.load(p)
	s.local.improve()
	s.local.store(p)
	s.recentLate = append(s.recentLate, p.warp > 0)
	s.recentOver = append(s.recentOver, p.over > 0)
	s.keep(p)
	if !p.holds() && s.rng.IntN(2) == 0 {
		q := p.clone()
		s.local.fines = fines{s.fines.late * 10, s.fines.load * 10}
		s.local.load(q)
		s.local.improve()
		s.local.store(q)
		if q.holds() {
			s.keep(q)
		}
	}
}

func (s *Search) keep(p *plan) {
	if p.holds() && (s.best == nil || p.cost < s.best.cost) {
		s.best = p.clone()
	}
	s.pop.add(p)
}

// adaptEvery is how many children pass between changes of the fines.
const adaptEvery = 50

// adapt raises the fines when too few plans hold, and lowers them when too
// many do: 40 % is the aim.
func (s *Search) adapt() {
	s.fines.late = adapted(s.fines.late, s.recentLate)
	s.fines.load = adapted(s.fines.load, s.recentOver)
	s.recentLate, s.recentOver = s.recentLate[:0], s.recentOver[:0]
}

func adapted(fine int64, broken []bool) int64 {
	held := 0
	for _, b := range broken {
		if !b {
			held++
		}
	}
	share := float64(held) / float64(max(len(broken), 1))
	switch {
	case share < 0.35:
		fine = fine*12/10 + 1
	case share > 0.45:
		fine = fine * 85 / 100
	}
	return min(max(fine, 1), 1<<40)
}
