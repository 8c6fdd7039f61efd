package round

import (
	"cmp"
	"fmt"
	"slices"
)

// Violation is one rule that a plan breaks.
type Violation struct {
	Rule   Rule
	Rig    string
	Day    int
	Visit  string
	Detail string
}

// String is for logs and tests.
func (v Violation) String() string {
	return fmt.Sprintf("%s (rig %q, day %d, visit %q): %s", v.Rule, v.Rig, v.Day, v.Visit, v.Detail)
}

// Rule names a rule of the package documentation.
type Rule string

// The rules a plan is held to.
const (
	RuleUnknown  Rule = "names are known"
	RuleOnce     Rule = "a visit is placed once or left out"
	RuleOrder    Rule = "rounds are in order, one a rig and day"
	RuleClosed   Rule = "nobody works on a closed day"
	RuleAllowed  Rule = "only named rigs come"
	RuleNeeds    Rule = "needs are met"
	RuleSize     Rule = "the train fits"
	RuleWindow   Rule = "work begins in a window"
	RuleWithin   Rule = "done within its days"
	RuleDaylight Rule = "work is in daylight"
	RuleStart    Rule = "the crew starts no earlier"
	RuleLatest   Rule = "the crew is done by the latest"
	RuleLongest  Rule = "the day is no longer than the longest"
	RulePin      Rule = "pins hold"
	RuleLoad     Rule = "the load fits a day"
	RuleDrive    Rule = "drives are as in the table"
	RuleReach    Rule = "every drive can be made"
	RulePlace    Rule = "a rig is where it was left"
	RuleClock    Rule = "times follow each other"
	RuleSetUp    Rule = "set-up is as long as stated"
	RuleWork     Rule = "work is as long as stated"
	RulePack     Rule = "pack-down is as long as stated"
	RuleWash     Rule = "wash-down is as long as stated"
	RuleDirt     Rule = "clean before dirty in a day"
	RuleWait     Rule = "waits between classes"
	RuleSplit    Rule = "only visits that may be split are"
	RuleChunk    Rule = "no part is shorter than allowed"
	RuleParts    Rule = "parts are on days in a row, alone between"
	RuleStay     Rule = "a rig stays only where it may"
	RuleLodge    Rule = "a crew lodges only when it would"
	RuleNight    Rule = "nights agree with rounds"
	RuleHome     Rule = "rigs are home when they have to be"
	RuleSpread   Rule = "80 % and 90 % times add up"
	RuleChance   Rule = "the chance of daylight is right"
	RuleDuty     Rule = "hours and overtime add up"
	RuleSlack    Rule = "the slack is there"
	RuleCost     Rule = "the cost adds up"
	RuleTotals   Rule = "the totals add up"
)

// Validate is the referee: it checks a plan against every rule and adds up its
// cost from scratch. It trusts nothing the planner wrote down and shares no
// code with it. No violations means that the plan holds.
func Validate(p Problem, plan Plan) []Violation {
	j := newReferee(&p, &plan)
	j.known()
	if len(j.found) > 0 {
		return j.found // the rest would only stumble over it
	}
	j.once()
	for i := range plan.Rounds {
		j.round(&plan.Rounds[i])
	}
	j.parts()
	j.nights()
	j.waits()
	j.money()
	j.totals()
	return j.found
}

// referee holds what it looks up.
type referee struct {
	p      *Problem
	plan   *Plan
	visit  map[string]*Visit
	rig    map[string]*Rig
	rounds map[rigDay]*Round
	night  map[rigDay]*Night
	found  []Violation
}

type rigDay struct {
	rig string
	day int
}

func newReferee(p *Problem, plan *Plan) *referee {
	j := &referee{p: p, plan: plan, visit: map[string]*Visit{}, rig: map[string]*Rig{}, rounds: map[rigDay]*Round{}, night: map[rigDay]*Night{}}
	for i := range p.Visits {
		j.visit[p.Visits[i].ID] = &p.Visits[i]
	}
	for i := range p.Rigs {
		j.rig[p.Rigs[i].ID] = &p.Rigs[i]
	}
	return j
}

func (j *referee) object(rule Rule, rig string, day int, visit, format string, args ...any) {
	j.found = append(j.found, Violation{rule, rig, day, visit, fmt.Sprintf(format, args...)})
}

// known checks that every name exists and that there is one round a rig and
// day, in order.
func (j *referee) known() {
	for i := range j.plan.Rounds {
		r := &j.plan.Rounds[i]
		if j.rig[r.Rig] == nil || r.Day < 0 || r.Day >= j.p.Days {
			j.object(RuleUnknown, r.Rig, r.Day, "", "no such rig or day")
			continue
		}
		if j.rounds[rigDay{r.Rig, r.Day}] != nil {
			j.object(RuleOrder, r.Rig, r.Day, "", "a second round")
		}
		j.rounds[rigDay{r.Rig, r.Day}] = r
		for _, s := range r.Stops {
			j.knownStop(r, s)
		}
	}
	for i := range j.plan.Nights {
		n := &j.plan.Nights[i]
		if j.rig[n.Rig] == nil || n.Day < 0 || n.Day >= j.p.Days || j.night[rigDay{n.Rig, n.Day}] != nil {
			j.object(RuleUnknown, n.Rig, n.Day, "", "no such night, or twice")
		}
		j.night[rigDay{n.Rig, n.Day}] = n
	}
	for _, l := range j.plan.LeftOut {
		if j.visit[l.Visit] == nil {
			j.object(RuleUnknown, "", 0, l.Visit, "left out but unknown")
		}
	}
	j.order()
}

func (j *referee) knownStop(r *Round, s Stop) {
	if j.visit[s.Visit] == nil || s.Parts < 1 || s.Part < 1 || s.Part > s.Parts {
		j.object(RuleUnknown, r.Rig, r.Day, s.Visit, "no such visit or part")
	}
}

func (j *referee) order() {
	rank := map[string]int{}
	for i := range j.p.Rigs {
		rank[j.p.Rigs[i].ID] = i
	}
	if !slices.IsSortedFunc(j.plan.Rounds, func(a, b Round) int {
		return cmp.Or(cmp.Compare(rank[a.Rig], rank[b.Rig]), cmp.Compare(a.Day, b.Day))
	}) {
		j.object(RuleOrder, "", 0, "", "rounds are not sorted")
	}
}

// once checks that each visit is placed whole, once, or left out.
func (j *referee) once() {
	seen, out := map[string]int{}, map[string]int{}
	parts := map[string]int{}
	for _, r := range j.plan.Rounds {
		for _, s := range r.Stops {
			seen[s.Visit]++
			if parts[s.Visit] == 0 {
				parts[s.Visit] = s.Parts
			}
		}
	}
	for _, l := range j.plan.LeftOut {
		out[l.Visit]++
	}
	for i := range j.p.Visits {
		id := j.p.Visits[i].ID
		switch {
		case seen[id] == 0 && out[id] == 1:
		case seen[id] > 0 && seen[id] == parts[id] && out[id] == 0:
		default:
			j.object(RuleOnce, "", 0, id, "%d stops of %d parts, left out %d times", seen[id], parts[id], out[id])
		}
	}
}
