package schedule

import (
	"context"

	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// Posed is the planner's problem for some days, and its plan, as the bridge
// makes them.
func (p *Planner) Posed(ctx context.Context, from civil.Date, days int, s Search) (round.Problem, round.Plan, error) {
	w, err := p.load(ctx, from, from.AddDays(days-1))
	if err != nil {
		return round.Problem{}, round.Plan{}, err
	}
	pb := p.pose(w, movable)
	plan, err := pb.solve(ctx, s)
	return pb.Problem, plan, err
}

// AsPlaced is the problem with every visit held where it is, and its plan;
// misfits are visits that break a rule there.
func (p *Planner) AsPlaced(ctx context.Context, from civil.Date, days int) (problem round.Problem, plan round.Plan, misfits []string, err error) {
	w, err := p.load(ctx, from, from.AddDays(days-1))
	if err != nil {
		return problem, plan, nil, err
	}
	pb := p.pose(w, movable)
	t := pb.placedAt(pb.byBooking(w.visits))
	return t.Problem, t.plan, t.misfits, nil
}
