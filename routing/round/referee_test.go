package round_test

import (
	"context"
	"testing"

	"drawbar/routing/round"
)

func solve(t *testing.T, p round.Problem, o round.Options) round.Plan {
	t.Helper()
	plan, err := round.Solve(context.Background(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// Every plan, of any problem, passes the referee.
func TestPlansOfWeeksPassTheReferee(t *testing.T) {
	for seed := range uint64(60) {
		s := shape{visits: 2 + int(seed%25), rigs: 1 + int(seed%3), days: 1 + int(seed%6), tame: seed%4 == 0}
		p := generate(seed, s)
		plan := solve(t, p, round.Options{Seed: seed, Iterations: 200})
		for _, v := range round.Validate(p, plan) {
			t.Errorf("seed %d %+v: %v", seed, s, v)
		}
		if t.Failed() {
			return
		}
	}
}
