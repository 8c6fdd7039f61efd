package round_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/round"
)

// roundabout is a table for a train that needs a quarter longer for every
// drive and cannot get to one place at all; none where cutOff is 0 (home) or
// less.
func roundabout(t interface{ Fatal(...any) }, plain *routing.Table, cutOff int) *routing.Table {
	n := plain.Len()
	legs := make([]routing.Leg, n*n)
	for i := range legs {
		legs[i] = plain.At(i/n, i%n)
		legs[i].Seconds, legs[i].Metres = legs[i].Seconds*5/4, legs[i].Metres*5/4
		if cutOff > 0 && (i/n == cutOff || i%n == cutOff) {
			legs[i] = routing.Leg{}
		}
	}
	table, err := routing.NewTable(slices.Clone(plain.Places()), legs)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// bridge is two rigs at one home and one yard: the first is too big for the
// bridge on the way there.
func bridge(t *testing.T) round.Problem {
	p := round.Problem{Days: 1, Costs: prices, Daylight: []round.Span{{From: 7 * hour, To: 17 * hour}}}
	p.Towing, p.Solo = tables(t, []orb.Point{{-75.6, 39}, {-75.5, 39}})
	day := round.RigDay{Start: 7 * hour, End: 17 * hour, Latest: 18 * hour}
	p.Rigs = []round.Rig{{ID: "big", Home: "p0", Days: []round.RigDay{day}}, {ID: "small", Home: "p0", Days: []round.RigDay{day}}}
	p.Rigs[0].Towing = roundabout(t, p.Towing, 1)
	times := round.Times{SetUp: 900, Work: 2 * hour, Pack: 900, Late80: 600, Late90: 1200}
	p.Visits = []round.Visit{{ID: "v", Place: "p1", Times: map[string]round.Times{"big": times, "small": times}, Value: 100000}}
	return p
}

func solved(t *testing.T, p round.Problem) round.Plan {
	t.Helper()
	plan, err := round.Solve(t.Context(), p, round.Options{Seed: 1, Iterations: 200})
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

func TestEachRigDrivesWhereItFits(t *testing.T) {
	p := bridge(t)
	plan := solved(t, p)
	if len(plan.Rounds) != 1 || plan.Rounds[0].Rig != "small" {
		t.Fatalf("%+v", plan.Rounds)
	}
	if objections := round.Validate(p, plan); len(objections) > 0 {
		t.Errorf("%v", objections)
	}
	plan.Rounds[0].Rig = "big"
	if !slices.ContainsFunc(round.Validate(p, plan), func(v round.Violation) bool { return v.Rule == round.RuleReach }) {
		t.Error("the referee lets the big rig over the bridge")
	}
}

func TestARigThatCannotGetThereIsTheReason(t *testing.T) {
	p := bridge(t)
	p.Rigs = p.Rigs[:1]
	delete(p.Visits[0].Times, "small")
	plan := solved(t, p)
	if len(plan.LeftOut) != 1 || plan.LeftOut[0].Reason.Cause != round.Unreachable {
		t.Errorf("%+v", plan.LeftOut)
	}
}

func TestARigsOwnTablesHaveThePlacesOfAll(t *testing.T) {
	for name, places := range map[string][]orb.Point{"fewer": {{-75.6, 39}}, "more": {{-75.6, 39}, {-75.5, 39}, {-75.4, 39}}} {
		var bad *round.InputError
		p := bridge(t)
		_, p.Rigs[1].Solo = tables(t, places)
		if _, err := round.Solve(t.Context(), p, round.Options{}); !errors.As(err, &bad) || bad.Field != "rigs[1].solo" {
			t.Errorf("%s places: %v", name, err)
		}
	}
}
