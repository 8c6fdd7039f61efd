package round

import (
	"context"
	"fmt"
	"time"

	"drawbar/routing/round/internal/search"
)

// Solve plans. The first whole plan comes from cheapest insertion and is told
// through Options.Progress at once; the rest of the time it is improved. When
// the context ends or the deadline passes, the best plan so far comes back
// without an error. An error is an *InputError.
func Solve(ctx context.Context, p Problem, o Options) (Plan, error) {
	plan, err := find(ctx, &p, o)
	if err == nil {
		p.explain(ctx, &plan)
	}
	return plan, err
}

// find is Solve without the reasons for what is left out.
func find(ctx context.Context, p *Problem, o Options) (Plan, error) {
	if err := p.Check(); err != nil {
		return Plan{}, err
	}
	d := newDecoder(p)
	st := search.NewState(d.m)
	for r := range p.Rigs {
		if st.Stuck(r) {
			return Plan{}, bad(fmt.Sprintf("rigs[%d].standing", r), "The rig stands at %s, and no day lets anybody bring it home in time.", p.Rigs[r].Standing.Place)
		}
	}
	if o.From != nil {
		d.adopt(st, o.From)
	}
	st.Build()
	s := search.New(st, search.NewRand(o.Seed, 0))
	tell := d.teller(s, o)
	tell(0)
	whole := s.Run(ctx, search.Run{Iterations: o.iterations(), Share: o.share(), Better: tell})
	plan := d.plan(s.Best())
	plan.Search = Search{Iterations: s.Done(), Stopped: !whole}
	return plan, nil
}

func (o *Options) iterations() int {
	switch {
	case o.Iterations == 0:
		return DefaultIterations
	case o.Iterations < 0:
		return 0
	}
	return o.Iterations
}

func (o *Options) clock() func() time.Time {
	if o.Now != nil {
		return o.Now
	}
	return time.Now
}

// share tells how much of the time until the deadline has passed; nil without
// a deadline.
func (o *Options) share() func() float64 {
	if o.Deadline.IsZero() {
		return nil
	}
	now := o.clock()
	start := now()
	whole := o.Deadline.Sub(start)
	return func() float64 {
		if whole <= 0 {
			return 1
		}
		return float64(now().Sub(start)) / float64(whole)
	}
}

func (d *decoder) teller(s *search.Search, o Options) func(int) {
	if o.Progress == nil {
		return func(int) {}
	}
	return func(i int) {
		best := s.Best()
		o.Progress(Progress{
			Iteration: i,
			Placed:    best.Placed(),
			Of:        len(d.p.Visits),
			Best:      Ticks(best.Cost),
			Plan:      func() Plan { return d.plan(best) },
		})
	}
}
