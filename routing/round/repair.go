package round

import (
	"cmp"
	"context"
	"slices"
)

// Repair is the smallest change that makes a plan work again.
type Repair struct {
	Plan  Plan
	Calls []Call // in the order in which people have to know
}

// Call is somebody to be rung, because what they were told no longer holds.
type Call struct {
	Visit string
	Told  Promise
	Now   *Placed // nil = no place any more
}

// Mend plans on from a plan that a disruption has broken. The problem is as it
// now is, with the promises that were made; the plan is the one before. What
// can stays where it is, and a promise is broken only where that is cheaper by
// its price. Options.From is not used. An error is an *InputError.
func Mend(ctx context.Context, p Problem, plan Plan, o Options) (Repair, error) {
	o.From = &plan
	mended, err := Solve(ctx, p, o)
	if err != nil {
		return Repair{}, err
	}
	return Repair{Plan: mended, Calls: Calls(p, mended)}, nil
}

// Calls are who has to be rung about a plan: everybody whose promise it does
// not keep. First comes whoever would be waiting or caught unready the soonest,
// by the earlier of the time that was told and the new one.
func Calls(p Problem, plan Plan) []Call {
	type urgent struct {
		at   Placed
		call Call
	}
	places := plan.Placing()
	var all []urgent
	for i := range p.Visits {
		v := &p.Visits[i]
		now := placed(places, v.ID)
		if !p.broken(v, now) {
			continue
		}
		at := Placed{Day: v.Promise.Day, Begin: v.Promise.Start}
		if now != nil && sooner(*now, at) < 0 {
			at = *now
		}
		all = append(all, urgent{at, Call{Visit: v.ID, Told: *v.Promise, Now: now}})
	}
	slices.SortStableFunc(all, func(a, b urgent) int {
		return cmp.Or(sooner(a.at, b.at), cmp.Compare(a.call.Visit, b.call.Visit))
	})
	var out []Call
	for _, u := range all {
		out = append(out, u.call)
	}
	return out
}
