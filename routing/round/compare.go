package round

import "cmp"

// Placed is where a plan has a visit; for a split one, its first part.
type Placed struct {
	Rig   string
	Day   int
	Begin int32
	Parts int
}

// Placing is where the plan has each visit that it places.
func (plan *Plan) Placing() map[string]Placed {
	out := map[string]Placed{}
	for i := range plan.Rounds {
		r := &plan.Rounds[i]
		for _, s := range r.Stops {
			if s.Part == 1 {
				out[s.Visit] = Placed{Rig: r.Rig, Day: r.Day, Begin: s.Begin, Parts: s.Parts}
			}
		}
	}
	return out
}

// Figures are what a plan comes to.
type Figures struct {
	Totals Totals
	Cost   Cost
	Dark   float64 // rounds to expect that are not done in daylight
	Broken int     // promises that do not hold
}

// Comparison sets two plans side by side.
type Comparison struct {
	Before, After Figures
	Changes       []Change // in the order of the Problem
}

// Change is a visit that two plans have in different places.
type Change struct {
	Visit         string
	Before, After *Placed // nil = no place
	Breaks        bool    // a promise that held before and does not after
}

// Compare says what another plan would change. Costs and totals are as the
// plans give them; promises are those of the problem.
func Compare(p Problem, before, after Plan) Comparison {
	was, is := before.Placing(), after.Placing()
	out := Comparison{Before: p.figures(&before, was), After: p.figures(&after, is)}
	for i := range p.Visits {
		v := &p.Visits[i]
		a, b := placed(was, v.ID), placed(is, v.ID)
		if a == nil && b == nil || a != nil && b != nil && *a == *b {
			continue
		}
		out.Changes = append(out.Changes, Change{Visit: v.ID, Before: a, After: b, Breaks: !p.broken(v, a) && p.broken(v, b)})
	}
	return out
}

func placed(places map[string]Placed, visit string) *Placed {
	if at, ok := places[visit]; ok {
		return &at
	}
	return nil
}

func (p *Problem) figures(plan *Plan, places map[string]Placed) Figures {
	out := Figures{Totals: plan.Totals, Cost: plan.Cost}
	for i := range plan.Rounds {
		out.Dark += 1 - plan.Rounds[i].Chance
	}
	for i := range p.Visits {
		if p.broken(&p.Visits[i], placed(places, p.Visits[i].ID)) {
			out.Broken++
		}
	}
	return out
}

// broken tells whether a place does not keep a visit's promise: it is on
// another day or out of the tolerance, with another rig where that has a
// price, or there is none.
func (p *Problem) broken(v *Visit, at *Placed) bool {
	switch {
	case v.Promise == nil:
		return false
	case at == nil || at.Day != v.Promise.Day:
		return true
	case at.Rig != v.Promise.Rig && p.Costs.MoveRig > 0:
		return true
	}
	off := at.Begin - v.Promise.Start
	return max(off, -off) > p.Costs.Tolerance
}

// sooner orders moments of a plan.
func sooner(a, b Placed) int {
	return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Begin, b.Begin))
}
