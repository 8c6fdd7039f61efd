package round_test

import (
	"slices"
	"testing"

	"drawbar/routing/round"
)

// placing is where a plan has each visit that it places; for a split one, its
// first part.
func placing(plan round.Plan) map[string]round.Spot {
	out := map[string]round.Spot{}
	for _, r := range plan.Rounds {
		for _, s := range r.Stops {
			if s.Part == 1 {
				out[s.Visit] = round.Spot{Rig: r.Rig, Day: r.Day, Begin: s.Begin}
			}
		}
	}
	return out
}

// settled is a made-up problem all of whose visits have a place.
func settled(t *testing.T, seed uint64) (round.Problem, round.Plan) {
	t.Helper()
	p := generate(seed, shape{visits: 10, rigs: 2, days: 3})
	plan := solve(t, p, round.Options{Seed: seed, Iterations: 300})
	p.Visits = slices.DeleteFunc(p.Visits, func(v round.Visit) bool { _, ok := placing(plan)[v.ID]; return !ok })
	for i := range p.Visits { // a pin of its own would be in the way of the check
		p.Visits[i].Pin = nil
	}
	return p, solve(t, p, round.Options{Iterations: -1, From: &plan})
}

// A visit that is pinned to a spot and planned there adds what the spot said,
// by the books of the referee.
func TestSpotsCostWhatTheySay(t *testing.T) {
	checked := 0
	for seed := range uint64(12) {
		p, plan := settled(t, seed)
		if len(plan.LeftOut) > 0 || len(p.Visits) < 2 {
			continue
		}
		v := p.Visits[int(seed)%len(p.Visits)]
		rest := p
		rest.Visits = slices.DeleteFunc(slices.Clone(p.Visits), func(o round.Visit) bool { return o.ID == v.ID })
		without := solve(t, rest, round.Options{Iterations: -1, From: &plan})
		spots, err := round.Spots(rest, without, v)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range spots {
			pinned := v
			pinned.Pin = &round.Pin{Rig: s.Rig, Day: s.Day, Start: round.AnyTime}
			pinned.Value = round.MaxPrice
			with := rest
			with.Visits = append(slices.Clone(rest.Visits), pinned)
			got := solve(t, with, round.Options{Iterations: -1, From: &without})
			if wrong := round.Validate(with, got); len(wrong) > 0 {
				t.Fatalf("seed %d: %v", seed, wrong)
			}
			if adds := got.Cost.Total() - without.Cost.Total(); adds != s.Adds || placing(got)[v.ID].Begin != s.Begin {
				t.Errorf("seed %d, %s: %+v, but planned there it adds %d at %d", seed, v.ID, s, adds, placing(got)[v.ID].Begin)
			}
			checked++
		}
	}
	if checked < 20 {
		t.Errorf("only %d spots checked", checked)
	}
}

// What a visit costs where it is, and no spot of the same rig and day next.
func TestWhyHere(t *testing.T) {
	p, plan := settled(t, 3)
	for id, at := range placing(plan) {
		why, err := round.WhyHere(p, plan, id)
		if err != nil {
			t.Fatal(err)
		}
		if why.Here.Rig != at.Rig || why.Here.Day != at.Day || why.Here.Begin != at.Begin {
			t.Errorf("%s is at %+v, not %+v", id, at, why.Here)
		}
		if n := why.Next; n != nil && n.Rig == at.Rig && n.Day == at.Day {
			t.Errorf("%s: the next place is the same", id)
		}
	}
	if _, err := round.WhyHere(p, plan, "nobody"); err == nil {
		t.Error("a visit nobody asked for has a place")
	}
}

// Without iterations nothing is improved.
func TestNoIterationsAreNone(t *testing.T) {
	p := generate(1, shape{visits: 10, rigs: 2, days: 3})
	if n := solve(t, p, round.Options{Iterations: -1}).Search.Iterations; n != 0 {
		t.Errorf("%d iterations", n)
	}
}
