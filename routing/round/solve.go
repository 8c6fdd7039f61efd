package round

import (
	"context"
	"fmt"
	"time"

	"drawbar/routing/round/internal/search"
)

// Solve plans. The first whole plan comes from insertion alone and is told
// through Options.Progress at once; the rest of the time it is improved. When
// the context ends or the deadline passes, the best plan so far comes back
// without an error. An error is an *InputError.
func Solve(ctx context.Context, p Problem, o Options) (Plan, error) {
	if err := p.Check(); err != nil {
		return Plan{}, err
	}
	d := newDecoder(&p)
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
	c := &climber{ctx: ctx, d: d, o: o, best: st.Snapshot(), share: o.share()}
	c.tell()
	c.climb(st)
	plan := d.plan(c.best)
	plan.Search = Search{Iterations: c.done, Stopped: c.done < o.iterations()}
	d.explain(&plan, c.best)
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
