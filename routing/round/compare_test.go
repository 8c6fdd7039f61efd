package round_test

import (
	"testing"

	"drawbar/routing/round"
)

func promised(id string, day int, start int32) round.Visit {
	return round.Visit{ID: id, Promise: &round.Promise{Rig: "A", Day: day, Start: start}}
}

func oneStop(rig string, day int, visit string, begin int32) round.Round {
	return round.Round{Rig: rig, Day: day, Chance: 0.9, Stops: []round.Stop{{Visit: visit, Part: 1, Parts: 1, Begin: begin}}}
}

// Worked by hand.
func TestCompareByHand(t *testing.T) {
	p := round.Problem{Costs: round.Costs{Tolerance: 900, MoveRig: 1}, Visits: []round.Visit{
		promised("same", 0, 8*hour), promised("day", 1, 8*hour), promised("a little", 2, 8*hour),
		promised("gone", 3, 8*hour), promised("rig", 4, 8*hour), {ID: "nobody was told"},
	}}
	before := round.Plan{Rounds: []round.Round{
		oneStop("A", 0, "same", 8*hour), oneStop("A", 1, "day", 8*hour), oneStop("A", 2, "a little", 8*hour),
		oneStop("A", 3, "gone", 8*hour), oneStop("A", 4, "rig", 8*hour), oneStop("A", 5, "nobody was told", 8*hour),
	}}
	after := round.Plan{Rounds: []round.Round{
		oneStop("A", 0, "same", 8*hour), oneStop("A", 2, "day", 10*hour), oneStop("A", 2, "a little", 8*hour+900),
		oneStop("B", 4, "rig", 8*hour), oneStop("A", 4, "nobody was told", 8*hour),
	}}
	c := round.Compare(p, before, after)
	if c.Before.Broken != 0 || c.After.Broken != 3 {
		t.Errorf("%d and %d promises broken, not 0 and 3", c.Before.Broken, c.After.Broken)
	}
	breaks := map[string]bool{"day": true, "a little": false, "gone": true, "rig": true, "nobody was told": false}
	if len(c.Changes) != len(breaks) {
		t.Fatalf("%d changes, not %d", len(c.Changes), len(breaks))
	}
	for _, change := range c.Changes {
		if want, known := breaks[change.Visit]; !known || want != change.Breaks {
			t.Errorf("%+v", change)
		}
	}
	if d := c.Before.Dark - 0.6; d > 1e-9 || d < -1e-9 {
		t.Errorf("%g rounds in the dark, not 0.6", c.Before.Dark)
	}
}

// Whoever is affected the soonest is rung first: by the old time or by a new
// one before it.
func TestCallsComeInOrder(t *testing.T) {
	p := round.Problem{Costs: round.Costs{Tolerance: 900}, Visits: []round.Visit{
		promised("late", 3, 8*hour), promised("pulled forward", 4, 8*hour), promised("dropped", 1, 8*hour), promised("kept", 0, 8*hour),
	}}
	plan := round.Plan{Rounds: []round.Round{
		oneStop("A", 0, "kept", 8*hour), oneStop("B", 0, "pulled forward", 9*hour), oneStop("A", 5, "late", 8*hour),
	}}
	want := []string{"pulled forward", "dropped", "late"}
	calls := round.Calls(p, plan)
	if len(calls) != len(want) {
		t.Fatalf("%+v", calls)
	}
	for i, call := range calls {
		if call.Visit != want[i] || (call.Now == nil) != (call.Visit == "dropped") {
			t.Errorf("call %d is %+v, not about %q", i, call, want[i])
		}
	}
}
