package round_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/round"
)

// threeDays is a week in small that uses every rule: two rigs, a shared set-up
// with a wash-down between, a visit over two days with the crew lodging, a
// night with the crew driving home, a visit left out.
func threeDays() round.Problem {
	g := generator{rng: nil}
	at := []orb.Point{{0, 0}, {10000, 0}, {70000, 0}, {72000, 3000}, {30000, 20000}, {30000, 26000}, {500, 500}}
	p := round.Problem{
		Days: 3, Towing: g.table(at, 13), Solo: g.table(at, 16),
		Costs: round.Costs{
			Hour: 3000, OvertimeHour: 1000, Km: 400, SoloKm: 20, RigDay: 1000, NightOut: 2000,
			LateHour: 500, MoveDay: 4000, MoveTime: 1000, MoveRig: 500, Tolerance: 900,
		},
	}
	p.Hygiene.Between[0][1], p.Hygiene.Home[1], p.Hygiene.Home[0] = 300, 900, 120
	p.Hygiene.Wait[3][0] = 2
	for range p.Days {
		p.Daylight = append(p.Daylight, round.Span{From: 7 * hour, To: 17 * hour})
	}
	day := round.RigDay{Start: 6 * hour, End: 17 * hour, Latest: 20 * hour, MayLodge: true, Skills: []string{"scanning"}, MaxLoad: 1000, Longest: 14 * hour}
	for _, id := range []string{"A", "B"} {
		p.Rigs = append(p.Rigs, round.Rig{ID: id, Home: "P0", Has: []string{"tilt"}, Size: round.Size{Width: 240, Length: 700, Height: 250, Mass: 2000}, Days: []round.RigDay{day, day, day}})
	}
	for d := range p.Days {
		p.Rigs[1].Days[d].MayLodge = false
	}
	add := func(id, place, rig string, day int, work int32, change func(*round.Visit)) {
		v := round.Visit{
			ID: id, Place: place, Value: 90000, Load: 200, Needs: []string{"tilt", "scanning"}, Limits: round.Size{Width: 250, Length: 800, Height: 300, Mass: 3000},
			Times:   map[string]round.Times{rig: {SetUp: 1200, Work: work, Pack: 900, Late80: work / 8, Late90: work / 5}},
			Windows: []round.Window{{FromDay: day, ToDay: day, From: 7 * hour, To: 16 * hour, Extra: 10}},
		}
		change(&v)
		p.Visits = append(p.Visits, v)
	}
	keep := func(*round.Visit) {}
	add("one", "P1", "A", 0, 2*hour, keep)
	add("two", "P1", "A", 0, 2*hour, func(v *round.Visit) {
		v.Class = 1
		v.Promise = &round.Promise{Rig: "B", Day: 0, Start: 8 * hour}
	})
	add("long", "P2", "A", 1, 12*hour, func(v *round.Visit) {
		v.MinChunk, v.MayStay, v.DoneWithin = 2*hour, true, 3
		v.Pin = &round.Pin{Rig: "A", Day: 1, Start: round.AnyTime}
	})
	add("three", "P3", "A", 2, 1*hour, func(v *round.Visit) { v.Lit = true })
	add("four", "P4", "B", 0, 3*hour, func(v *round.Visit) { v.MayStay = true })
	add("five", "P5", "B", 1, 3*hour, keep)
	add("six", "P6", "A", 0, 3*hour, func(v *round.Visit) { v.Value = 1 })
	return p
}

// planned is the plan for threeDays, which has to be as its comment says.
func planned(t *testing.T) (round.Problem, round.Plan) {
	t.Helper()
	p := threeDays()
	plan := solve(t, p, round.Options{Iterations: 3000})
	if wrong := round.Validate(p, plan); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	lodged := slices.ContainsFunc(plan.Nights, func(n round.Night) bool { return n.Rig == "A" && n.Lodged })
	apart := slices.ContainsFunc(plan.Nights, func(n round.Night) bool { return n.Rig == "B" && !n.Lodged })
	if !lodged || !apart || len(plan.LeftOut) != 1 || len(plan.Rounds) != 5 || stop(&plan, "long").Parts != 2 || stop(&plan, "two").Drive != nil {
		t.Fatalf("not the plan these checks are about: %+v", plan)
	}
	return p, plan
}

// fewer sends some of the crew only on the first day, who take so long.
func fewer(p *round.Problem, t round.Times) {
	p.Rigs[0].Days[0].Crew = "some"
	for _, id := range []string{"one", "two"} {
		visitOf(p, id).Times["some"] = t
	}
}

func stop(plan *round.Plan, visit string) *round.Stop {
	for i := range plan.Rounds {
		for j := range plan.Rounds[i].Stops {
			if s := &plan.Rounds[i].Stops[j]; s.Visit == visit {
				return s
			}
		}
	}
	panic("no stop " + visit)
}

func visitOf(p *round.Problem, id string) *round.Visit {
	return &p.Visits[slices.IndexFunc(p.Visits, func(v round.Visit) bool { return v.ID == id })]
}

func roundOf(plan *round.Plan, rig string, day int) *round.Round {
	return &plan.Rounds[slices.IndexFunc(plan.Rounds, func(r round.Round) bool { return r.Rig == rig && r.Day == day })]
}

// Each plan is broken by hand in one way; the referee has to say which.
func TestRefereeRejectsBrokenPlans(t *testing.T) {
	type world struct {
		p    *round.Problem
		plan *round.Plan
	}
	_, whole := planned(t)
	for _, c := range []struct {
		name  string
		rule  round.Rule
		spoil func(w world)
	}{
		{"a rig nobody has", round.RuleUnknown, func(w world) { w.plan.Rounds[0].Rig = "Z" }},
		{"a day that is not planned", round.RuleUnknown, func(w world) { w.plan.Rounds[0].Day = 9 }},
		{"a visit nobody asked for", round.RuleUnknown, func(w world) { stop(w.plan, "one").Visit = "zero" }},
		{"part 3 of 2", round.RuleUnknown, func(w world) { stop(w.plan, "long").Part = 3 }},
		{"an unknown visit left out", round.RuleUnknown, func(w world) { w.plan.LeftOut[0].Visit = "zero" }},
		{"a night of no rig", round.RuleUnknown, func(w world) { w.plan.Nights[0].Rig = "Z" }},
		{"two rounds on a day", round.RuleOrder, func(w world) { w.plan.Rounds[1].Day = w.plan.Rounds[0].Day }},
		{"rounds out of order", round.RuleOrder, func(w world) {
			w.plan.Rounds[0], w.plan.Rounds[1] = w.plan.Rounds[1], w.plan.Rounds[0]
		}},
		{"placed and left out", round.RuleOnce, func(w world) { w.plan.LeftOut = append(w.plan.LeftOut, round.LeftOut{Visit: "one"}) }},
		{"neither placed nor left out", round.RuleOnce, func(w world) { w.plan.LeftOut = nil }},
		{"half a visit", round.RuleOnce, func(w world) { roundOf(w.plan, "A", 2).Stops = roundOf(w.plan, "A", 2).Stops[1:] }},
		{"in the workshop", round.RuleClosed, func(w world) { w.p.Rigs[0].Days[0].Closed = "workshop" }},
		{"a rig that is not named", round.RuleAllowed, func(w world) { visitOf(w.p, "one").Times = map[string]round.Times{"B": visitOf(w.p, "one").Times["A"]} }},
		{"a crew that is not named", round.RuleAllowed, func(w world) { w.p.Rigs[0].Days[0].Crew = "some" }},
		{"as if more had come", round.RuleWork, func(w world) { fewer(w.p, round.Times{SetUp: 1200, Work: 3 * hour, Pack: 900}) }},
		{"set up as if more had come", round.RuleSetUp, func(w world) { fewer(w.p, round.Times{SetUp: 1300, Work: 2 * hour, Pack: 900}) }},
		{"packed as if more had come", round.RulePack, func(w world) { fewer(w.p, round.Times{SetUp: 1200, Work: 2 * hour, Pack: 1000}) }},
		{"no tilt on the rig", round.RuleNeeds, func(w world) { w.p.Rigs[0].Has = nil }},
		{"nobody who scans", round.RuleNeeds, func(w world) { w.p.Rigs[0].Days[0].Skills = nil }},
		{"nobody who scans for the second part", round.RuleNeeds, func(w world) { w.p.Rigs[0].Days[2].Skills = nil }},
		{"too wide", round.RuleSize, func(w world) { w.p.Rigs[0].Size.Width = 251 }},
		{"too long", round.RuleSize, func(w world) { w.p.Rigs[0].Size.Length = 801 }},
		{"too high", round.RuleSize, func(w world) { w.p.Rigs[0].Size.Height = 301 }},
		{"too heavy", round.RuleSize, func(w world) { w.p.Rigs[0].Size.Mass = 3001 }},
		{"outside the window", round.RuleWindow, func(w world) { visitOf(w.p, "one").Windows[0].From = 16 * hour }},
		{"on a day outside the window", round.RuleWindow, func(w world) { visitOf(w.p, "one").Windows[0].FromDay, visitOf(w.p, "one").Windows[0].ToDay = 1, 2 }},
		{"after its latest day", round.RuleWithin, func(w world) { visitOf(w.p, "long").DoneWithin = 2 }},
		{"before dawn", round.RuleDaylight, func(w world) { w.p.Daylight[0].From = 12 * hour }},
		{"after dusk", round.RuleDaylight, func(w world) { w.p.Daylight[0].To = 9 * hour }},
		{"up too early", round.RuleStart, func(w world) { w.p.Rigs[0].Days[0].Start = 9 * hour }},
		{"back too late", round.RuleLatest, func(w world) { w.p.Rigs[0].Days[0].Latest = 9 * hour }},
		{"too long a day", round.RuleLongest, func(w world) { w.p.Rigs[0].Days[0].Longest = 3 * hour }},
		{"pinned to another day", round.RulePin, func(w world) { visitOf(w.p, "long").Pin.Day = 0 }},
		{"pinned to another rig", round.RulePin, func(w world) { visitOf(w.p, "long").Pin.Rig = "B" }},
		{"pinned to another time", round.RulePin, func(w world) { visitOf(w.p, "long").Pin.Start = 9 * hour }},
		{"too many head for the day", round.RuleLoad, func(w world) { w.p.Rigs[0].Days[0].MaxLoad = 399 }},
		{"too fast", round.RuleDrive, func(w world) { stop(w.plan, "one").Drive.Seconds-- }},
		{"too short", round.RuleDrive, func(w world) { stop(w.plan, "one").Drive.Metres-- }},
		{"an estimate passed off as measured", round.RuleDrive, func(w world) { stop(w.plan, "one").Drive.Estimate = true }},
		{"over a broken bridge", round.RuleReach, func(w world) { w.p.Towing = cutOff(w.p.Towing, "P0", "P1") }},
		{"from nowhere", round.RulePlace, func(w world) { stop(w.plan, "one").Drive = nil }},
		{"from elsewhere", round.RulePlace, func(w world) { stop(w.plan, "one").Drive.From = "P6" }},
		{"driving to where it stands", round.RulePlace, func(w world) { stop(w.plan, "two").Drive = &round.Drive{From: "P1", To: "P1"} }},
		{"fetching without having left", round.RulePlace, func(w world) { roundOf(w.plan, "A", 0).Fetch = &round.Drive{From: "P0", To: "P1", Solo: true} }},
		{"not fetching what was left", round.RulePlace, func(w world) { roundOf(w.plan, "B", 1).Fetch = nil }},
		{"home without the rig", round.RulePlace, func(w world) { roundOf(w.plan, "A", 0).Back.Solo = true }},
		{"a round with nothing in it", round.RulePlace, func(w world) {
			w.plan.Rounds = append(w.plan.Rounds, round.Round{Rig: "B", Day: 2})
		}},
		{"arriving before driving", round.RuleClock, func(w world) { stop(w.plan, "one").Arrive -= 60 }},
		{"beginning before ready", round.RuleClock, func(w world) { stop(w.plan, "one").Begin = stop(w.plan, "one").Ready - 60 }},
		{"leaving before packed", round.RuleClock, func(w world) { stop(w.plan, "two").Leave -= 60 }},
		{"home before driving", round.RuleClock, func(w world) { roundOf(w.plan, "A", 0).End -= 60 }},
		{"a short set-up", round.RuleSetUp, func(w world) { stop(w.plan, "one").Ready -= 60 }},
		{"a set-up where it stands", round.RuleSetUp, func(w world) { stop(w.plan, "two").Ready += 60 }},
		{"too little work", round.RuleWork, func(w world) { stop(w.plan, "one").Done -= 60 }},
		{"a short pack-down", round.RulePack, func(w world) { stop(w.plan, "two").Pack -= 60 }},
		{"no pack-down in the morning", round.RulePack, func(w world) { roundOf(w.plan, "B", 1).Pack = 0 }},
		{"no wash-down between", round.RuleWash, func(w world) { stop(w.plan, "one").Wash = 0 }},
		{"no wash-down before home", round.RuleWash, func(w world) { stop(w.plan, "two").Wash = 0 }},
		{"dirty before clean", round.RuleDirt, func(w world) { visitOf(w.p, "one").Class = 2 }},
		{"too soon after a flock", round.RuleWait, func(w world) { w.p.Rigs[0].Visited = []round.Visited{{DaysAgo: 1, Class: 3}} }},
		{"too soon inside the plan", round.RuleWait, func(w world) { w.p.Hygiene.Wait[1][0] = 2 }},
		{"split but may not be", round.RuleSplit, func(w world) { visitOf(w.p, "long").MinChunk = 0 }},
		{"too short a part", round.RuleChunk, func(w world) { visitOf(w.p, "long").MinChunk = 9 * hour }},
		{"parts in the wrong order", round.RuleParts, func(w world) {
			a, b := &roundOf(w.plan, "A", 1).Stops[0], &roundOf(w.plan, "A", 2).Stops[0]
			a.Part, b.Part = b.Part, a.Part
		}},
		{"staying where it may not", round.RuleStay, func(w world) { visitOf(w.p, "four").MayStay = false }},
		{"lodging unwilling", round.RuleLodge, func(w world) { w.p.Rigs[0].Days[1].MayLodge = false }},
		{"sleeping elsewhere", round.RuleNight, func(w world) { w.plan.Nights[0].Place = "P6" }},
		{"lodging but driving home", round.RuleNight, func(w world) {
			roundOf(w.plan, "A", 1).Back = &round.Drive{From: "P2", To: "P0", Solo: true}
		}},
		{"a night without a round", round.RuleNight, func(w world) {
			w.plan.Nights = append(w.plan.Nights, round.Night{Rig: "B", Day: 1, Place: "P6"})
		}},
		{"out when it has to be home", round.RuleHome, func(w world) { w.p.Rigs[1].Days[1].AtHome = true }},
		{"still out at the end", round.RuleHome, func(w world) {
			w.plan.Nights = append(w.plan.Nights, round.Night{Rig: "A", Day: 2, Place: "P3"})
		}},
		{"surer than it is", round.RuleSpread, func(w world) { stop(w.plan, "one").Done90 -= 60 }},
		{"80 % wrong", round.RuleSpread, func(w world) { stop(w.plan, "one").Done80 += 60 }},
		{"a rosy chance", round.RuleChance, func(w world) { roundOf(w.plan, "B", 0).Chance -= 0.01 }},
		{"late unsaid", round.RuleChance, func(w world) { w.p.Daylight[0].To = stop(w.plan, "two").Done }},
		{"overtime unsaid", round.RuleDuty, func(w world) { w.p.Rigs[0].Days[0].End = 9 * hour }},
		{"a short duty", round.RuleDuty, func(w world) { roundOf(w.plan, "A", 0).Duty -= 60 }},
		{"slack that is not there", round.RuleSlack, func(w world) { roundOf(w.plan, "A", 0).Slack = 20 * hour }},
		{"hours at half price", round.RuleCost, func(w world) { w.plan.Cost.Hours /= 2 }},
		{"a free window", round.RuleCost, func(w world) { w.plan.Cost.Windows = 0 }},
		{"a promise broken for nothing", round.RuleCost, func(w world) { w.plan.Cost.Promises = 0 }},
		{"a free night", round.RuleCost, func(w world) { w.plan.Cost.Nights = 0 }},
		{"kilometres that went missing", round.RuleTotals, func(w world) { w.plan.Totals.Metres -= 1000 }},
		{"nights that went missing", round.RuleTotals, func(w world) { w.plan.Totals.Lodged = 0 }},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, plan := threeDays(), copied(t, whole)
			c.spoil(world{&p, &plan})
			found := round.Validate(p, plan)
			if !slices.ContainsFunc(found, func(v round.Violation) bool { return v.Rule == c.rule }) {
				t.Errorf("no objection that %q; found %v", c.rule, found)
			}
		})
	}
}

// copied is a plan that shares nothing with the one it was.
func copied(t *testing.T, plan round.Plan) round.Plan {
	t.Helper()
	text, err := json.Marshal(plan)
	if err != nil {
		t.Fatal(err)
	}
	var out round.Plan
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// cutOff is a table with one leg that cannot be driven.
func cutOff(t *routing.Table, from, to string) *routing.Table {
	n := t.Len()
	legs := make([]routing.Leg, 0, n*n)
	for i := range n {
		for j := range n {
			l := t.At(i, j)
			if t.Places()[i].ID == from && t.Places()[j].ID == to {
				l.Reachable = false
			}
			legs = append(legs, l)
		}
	}
	out, err := routing.NewTable(t.Places(), legs)
	if err != nil {
		panic(err)
	}
	return out
}
