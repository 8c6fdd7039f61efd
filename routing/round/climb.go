package round

import (
	"context"

	"drawbar/routing/round/internal/evolve"
	"drawbar/routing/round/internal/search"
)

// climber spends the iterations and the time of a search.
type climber struct {
	ctx   context.Context
	d     *decoder
	o     Options
	share func() float64 // of the time that has passed; nil = no deadline
	best  search.Snapshot
	done  int // iterations
}

// child is how many iterations of ruin and recreate take about as long as one
// child of the evolution.
const child = 40

// annealed is the part of a search that anneals before plans are crossed, when
// they are.
const annealed = 0.1

// climb improves on a first plan.
func (c *climber) climb(st *search.State) {
	crossed := evolve.Suits(c.d.m)
	until := 1.0
	if crossed {
		until = annealed
	}
	c.anneal(c.annealer(st, crossed), until)
	if crossed {
		c.evolve()
	}
}

// passed is the share of the search that is over.
func (c *climber) passed() float64 {
	whole := c.o.iterations()
	if c.done >= whole || c.ctx.Err() != nil {
		return 1
	}
	share := float64(c.done) / float64(whole)
	if c.share != nil {
		share = max(share, c.share())
	}
	return share
}

// annealer improves a plan until enough has passed.
type annealer interface {
	Run(passed func() float64, done func(iterations int))
	Best() search.Snapshot
}

func (c *climber) annealer(st *search.State, crossed bool) annealer {
	if !crossed {
		if team := search.NewTeam(st, c.o.Seed, c.share != nil); team != nil {
			return team
		}
	}
	return search.New(st, search.NewRand(c.o.Seed, 0))
}

func (c *climber) anneal(s annealer, until float64) {
	s.Run(func() float64 { return c.passed() / until }, func(n int) {
		c.done += n
		c.take(s.Best())
	})
}

func (c *climber) evolve() {
	s := evolve.New(c.d.m, search.NewRand(c.o.Seed, 1))
	s.Adopt(c.best)
	for c.passed() < 1 {
		s.Step()
		c.done += child
		if best, ok := s.Best(); ok {
			c.take(best)
		}
	}
}

// take keeps a plan if it is better.
func (c *climber) take(snap search.Snapshot) {
	if snap.Cost < c.best.Cost {
		c.best = snap
		c.tell()
	}
}

func (c *climber) tell() {
	if c.o.Progress == nil {
		return
	}
	best := c.best
	c.o.Progress(Progress{
		Iteration: c.done,
		Placed:    best.Placed(),
		Of:        len(c.d.p.Visits),
		Best:      Ticks(best.Cost),
		Plan:      func() Plan { return c.d.plan(best) },
	})
}
