//go:build !race

package round_test

import (
	"slices"
	"testing"

	"drawbar/routing/round"
)

// exactCases of up to 7 visits, 2 rigs and 3 days are planned and compared
// with the cheapest plan there is, found by trying everything.
const exactCases = 500

// small is the problem of a seed.
func small(seed uint64) round.Problem {
	return generate(seed, shape{visits: 3 + int(seed%5), rigs: 1 + int(seed/5%2), days: 1 + int(seed/10%3)})
}

func TestSmallProblemsAgainstTryingEverything(t *testing.T) {
	exact := 0
	for seed := range uint64(exactCases) {
		p := small(seed)
		plan := solve(t, p, round.Options{Seed: seed, Iterations: 3000})
		for _, v := range round.Validate(p, plan) {
			t.Errorf("seed %d: %v", seed, v)
		}
		got, best := int64(plan.Cost.Total()), optimum(&p)
		switch {
		case got == best:
			exact++
		case got < best:
			t.Errorf("seed %d: %d is below the optimum %d: one of the two breaks a rule", seed, got, best)
		case float64(got) > 1.02*float64(best):
			t.Errorf("seed %d: %d is %.2f %% above the optimum %d", seed, got, 100*(float64(got)/float64(best)-1), best)
		default:
			t.Logf("seed %d: %.3f %% above", seed, 100*(float64(got)/float64(best)-1))
		}
	}
	if exact < exactCases*95/100 {
		t.Errorf("only %d of %d exact", exact, exactCases)
	}
	t.Logf("%d of %d exact", exact, exactCases)
}

// hardest is the one of 3,000 such problems that is farthest from its optimum
// after 3,000 tries: a visit spread over days has to trade rigs with two others.
const hardest = 736

// manyTries are what a plan of the week with so many visits gets.
const manyTries = 300_000

func TestHardestSmallProblemIsSolvedInTheTimeOfAPlan(t *testing.T) {
	p := small(hardest)
	plan := solve(t, p, round.Options{Seed: 1, Iterations: manyTries})
	if got, best := int64(plan.Cost.Total()), optimum(&p); got != best {
		t.Errorf("%d, not the optimum %d", got, best)
	}
}

// A rig that is like another but for who goes with it is no stand-in for it:
// where the first goes with fewer hands, the second is sent.
func TestRigsWithOtherCrewsAreNotAlike(t *testing.T) {
	for seed := range uint64(20) {
		p := generate(seed, shape{visits: 3, rigs: 1, days: 2, tame: true})
		first := &p.Rigs[0]
		second := *first
		second.ID, second.Days = "R1", slices.Clone(first.Days)
		for d := range first.Days {
			first.Days[d].Crew, second.Days[d].Crew = "some", "all"
		}
		for _, v := range p.Visits {
			if usual, may := v.Times[first.ID]; may {
				longer := usual
				longer.Work += hour
				clear(v.Times)
				v.Times[first.ID], v.Times["R1"], v.Times["all"], v.Times["some"] = usual, usual, usual, longer
			}
		}
		p.Rigs = append(p.Rigs, second)
		plan := solve(t, p, round.Options{Seed: seed, Iterations: 3000})
		if got, best := int64(plan.Cost.Total()), optimum(&p); got != best {
			t.Errorf("seed %d: %d, not the optimum %d", seed, got, best)
		}
	}
}
