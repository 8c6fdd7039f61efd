package round_test

import (
	"context"
	"testing"

	"drawbar/routing/round"

	"github.com/paulmach/orb"
)

// single is one rig, two days and one visit of two hours 20 km away.
func single(t *testing.T, change func(p *round.Problem)) round.LeftOut {
	p := round.Problem{Days: 2, Costs: prices, Daylight: []round.Span{{From: 7 * hour, To: 17 * hour}, {From: 7 * hour, To: 17 * hour}}}
	p.Towing, p.Solo = tables(t, []orb.Point{{-75.6, 39}, {-75.4, 39}})
	day := round.RigDay{Start: 6 * hour, End: 17 * hour, Latest: 19 * hour}
	p.Rigs = []round.Rig{{ID: "A", Home: "p0", Size: round.Size{Width: 250}, Days: []round.RigDay{day, day}}}
	p.Visits = []round.Visit{{ID: "v", Place: "p1", Value: 500_000, Times: map[string]round.Times{"A": {SetUp: 1800, Work: 2 * hour, Pack: 1800}}}}
	change(&p)
	plan, err := round.Solve(context.Background(), p, round.Options{Iterations: 50})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.LeftOut) != 1 {
		t.Fatalf("%d left out", len(plan.LeftOut))
	}
	return plan.LeftOut[0]
}

// Each rule alone keeps the visit out; the reason names it.
func TestReasonsAreTrue(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *round.Problem)
		cause  round.Cause
		way    round.WayKind
	}{
		"no rig named":  {func(p *round.Problem) { p.Visits[0].Times = nil }, round.NoRig, ""},
		"no tilt":       {func(p *round.Problem) { p.Visits[0].Needs = []string{"side tilt"} }, round.Equipment, round.MoreKit},
		"gate of 2.4 m": {func(p *round.Problem) { p.Visits[0].Limits.Width = 240 }, round.TooBig, round.SmallerRig},
		"workshop":      {func(p *round.Problem) { p.Rigs[0].Days[0].Closed, p.Rigs[0].Days[1].Closed = "brakes", "brakes" }, round.WrongDays, ""},
		"window is closed": {func(p *round.Problem) {
			p.Rigs[0].Days[0].Closed = "brakes"
			p.Visits[0].Windows = []round.Window{{To: round.Day}}
		}, round.WrongDays, round.OtherDay},
		"before breakfast": {func(p *round.Problem) { p.Visits[0].Windows = []round.Window{{ToDay: 1, From: 0, To: 6 * hour}} }, round.TooLong, round.OtherTime},
		"longer than day":  {func(p *round.Problem) { p.Visits[0].Times["A"] = round.Times{Work: 14 * hour} }, round.TooLong, round.Split},
		"no way there":     {func(p *round.Problem) { p.Towing = cutOff(p.Towing, "p0", "p1") }, round.Unreachable, ""},
		"after an infected flock": {func(p *round.Problem) {
			p.Hygiene.Wait[3][0] = 9
			p.Rigs[0].Visited = []round.Visited{{DaysAgo: 1, Class: 3}}
		}, round.Waiting, round.LessWait},
		"behind one that pays more": {func(p *round.Problem) {
			other := p.Visits[0]
			other.ID, other.Value = "w", 900_000
			p.Rigs[0].Days[1].Closed, p.Rigs[0].Days[0].MaxLoad = "holiday", 100
			p.Visits[0].Load, other.Load = 60, 60
			p.Visits = append(p.Visits, other)
		}, round.NoRoom, ""},
		"not worth it": {func(p *round.Problem) { p.Visits[0].Value = 1 }, round.NotWorth, round.HigherWork},
	} {
		t.Run(name, func(t *testing.T) {
			got := single(t, c.change)
			if got.Reason.Cause != c.cause {
				t.Errorf("cause %q, want %q", got.Reason.Cause, c.cause)
			}
			if (got.Way == nil) != (c.way == "") || got.Way != nil && got.Way.Kind != c.way {
				t.Errorf("way %+v, want %q", got.Way, c.way)
			}
		})
	}
}
