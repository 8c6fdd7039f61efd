//go:build !race

package round_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"drawbar/routing/round"
)

// agreed is a made-up week with a plan of which everybody was told.
func agreed(t *testing.T, seed uint64) (round.Problem, round.Plan) {
	t.Helper()
	p := generate(seed, shape{visits: 30, rigs: 3, days: 7})
	for i := range p.Visits {
		p.Visits[i].Promise, p.Visits[i].Pin = nil, nil
	}
	plan := solve(t, p, round.Options{Seed: seed, Iterations: 1200})
	for i := range p.Visits {
		if at, ok := plan.Placing()[p.Visits[i].ID]; ok {
			p.Visits[i].Promise = &round.Promise{Rig: at.Rig, Day: at.Day, Start: at.Begin}
		}
	}
	return p, plan
}

// disrupted is one of the four things that go wrong, and what it was.
func disrupted(p round.Problem, plan *round.Plan, seed uint64) (round.Problem, string) {
	rng := rand.New(rand.NewPCG(seed, 11))
	out := slices.ContainsFunc(p.Rigs, func(r round.Rig) bool { return r.Standing != nil })
	r := plan.Rounds[rng.IntN(len(plan.Rounds))]
	for out && r.Day == 0 { // made-up hours may leave no other day to fetch a rig home
		r = plan.Rounds[rng.IntN(len(plan.Rounds))]
	}
	switch seed % 4 {
	case 0:
		return p.Off("", r.Day, r.Day, "rain"), fmt.Sprintf("rain on day %d", r.Day)
	case 1:
		return p.Off(r.Rig, r.Day, r.Day+1, "breakdown"), fmt.Sprintf("%s broken down on day %d", r.Rig, r.Day)
	case 2:
		return p.StartingLate(r.Rig, r.Day, r.Start+2*hour), fmt.Sprintf("%s late on day %d", r.Rig, r.Day)
	}
	v := plan.Rounds[0].Stops
	for _, other := range plan.Rounds {
		if len(other.Stops) > 0 && other.Day >= r.Day {
			v = other.Stops
			break
		}
	}
	return p.Resized(v[0].Visit, 50), "half the mob at " + v[0].Visit
}

// free is the problem without prices for moving promises.
func free(p round.Problem) round.Problem {
	p.Costs.MoveDay, p.Costs.MoveTime, p.Costs.MoveRig = 0, 0, 0
	return p
}

// running is what a plan costs but for broken promises.
func running(plan *round.Plan) float64 {
	return float64(plan.Cost.Total() - plan.Cost.Promises)
}

// Mending 50 random disruptions breaks at most a third of the promises that
// planning afresh, without prices for moving them, breaks, at a cost within
// 5 % of it.
func TestMendingKeepsPromises(t *testing.T) {
	var mended, afresh, few, near int
	var cost, costAfresh float64
	const cases = 50
	for seed := range uint64(cases) {
		p, plan := agreed(t, seed)
		now, what := disrupted(p, &plan, seed)
		r, err := round.Mend(t.Context(), now, plan, round.Options{Seed: seed, Iterations: 1200})
		if err != nil {
			t.Fatalf("seed %d, %s: %v", seed, what, err)
		}
		for _, v := range round.Validate(now, r.Plan) {
			t.Errorf("seed %d, %s: %v", seed, what, v)
		}
		if n := round.Compare(now, plan, r.Plan).After.Broken; n != len(r.Calls) {
			t.Errorf("seed %d, %s: %d promises broken, %d calls", seed, what, n, len(r.Calls))
		}
		other := solve(t, free(now), round.Options{Seed: seed, Iterations: 1200})
		a, b := len(r.Calls), len(round.Calls(now, other))
		x, y := running(&r.Plan), running(&other)
		mended, afresh, cost, costAfresh = mended+a, afresh+b, cost+x, costAfresh+y
		if 3*a <= b {
			few++
		}
		if x <= 1.05*y {
			near++
		}
		t.Logf("seed %2d, %-28s %2d calls, afresh %2d; cost %+.2f %%", seed, what, a, b, 100*(x/y-1))
	}
	t.Logf("%d calls, afresh %d; cost %+.2f %%; at most a third in %d, within 5 %% in %d of %d", mended, afresh, 100*(cost/costAfresh-1), few, near, cases)
	if 3*mended > afresh {
		t.Errorf("%d promises broken, more than a third of %d", mended, afresh)
	}
	if cost > 1.05*costAfresh {
		t.Errorf("costs %.2f %% more than planning afresh", 100*(cost/costAfresh-1))
	}
}
