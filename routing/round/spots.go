package round

import (
	"cmp"
	"slices"

	"drawbar/routing/round/internal/search"
)

// Spot is a place in a plan where one more visit could go.
type Spot struct {
	Rig   string
	Day   int
	Begin int32 // when work would begin
	Parts int   // over how many days
	Adds  Ticks // to the plan, with what moving a promise of the visit costs
}

// Spots are the cheapest spots of each rig and day for a visit that is not in
// the plan, the cheapest first. Everything else stays where it is, in the same
// order, though perhaps somewhat later or earlier. The visit need not be one
// of the problem's. An error is an *InputError; the plan has to hold.
func Spots(p Problem, plan Plan, v Visit) ([]Spot, error) {
	p.Visits = slices.DeleteFunc(slices.Clone(p.Visits), func(w Visit) bool { return w.ID == v.ID })
	plan.LeftOut = slices.DeleteFunc(slices.Clone(plan.LeftOut), func(l LeftOut) bool { return l.Visit == v.ID })
	p.Visits = append(p.Visits, v)
	d, st, err := opened(&p, &plan)
	if err != nil {
		return nil, err
	}
	i := len(p.Visits) - 1
	if st.Where(i).Parts > 0 {
		return nil, bad("visit.id", "%s is already in the plan.", v.ID)
	}
	return d.spots(st, i, d.m.Visits[i]), nil
}

// Why says what a visit costs where it is and what it would cost elsewhere.
type Why struct {
	Here Spot
	Next *Spot // the cheapest on another day or with another rig; nil = nowhere
}

// WhyHere answers "why here?" for a visit in the plan.
func WhyHere(p Problem, plan Plan, visit string) (Why, error) {
	i := slices.IndexFunc(p.Visits, func(v Visit) bool { return v.ID == visit })
	if i < 0 {
		return Why{}, bad("visit", "There is no visit %q.", visit)
	}
	d, st, err := opened(&p, &plan)
	if err != nil {
		return Why{}, err
	}
	at := st.Where(i)
	if at.Parts == 0 {
		return Why{}, bad("visit", "%s has no place in the plan.", visit)
	}
	r, day := int(at.Rig), int(at.Day)
	why := Why{Here: Spot{Rig: p.Rigs[r].ID, Day: day, Parts: int(at.Parts), Begin: st.Begin(r, day, int32(i))}}
	with := st.Cost()
	st.TakeOut(i)
	why.Here.Adds = Ticks(with - st.Cost() + d.m.Visits[i].Absent)
	spots := d.spots(st, i, d.m.Visits[i])
	if n := slices.IndexFunc(spots, func(s Spot) bool { return s.Rig != why.Here.Rig || s.Day != day }); n >= 0 {
		why.Next = &spots[n]
	}
	return why, nil
}

// opened is a plan on the board of the engine, where things can be tried.
func opened(p *Problem, plan *Plan) (*decoder, *search.State, error) {
	if err := p.Check(); err != nil {
		return nil, nil, err
	}
	d := newDecoder(p)
	d.m = d.m.Variant()
	st := search.NewState(d.m)
	d.adopt(st, plan)
	if placed := len(p.Visits) - len(st.Absent()); placed != plan.Totals.Placed {
		return nil, nil, bad("plan", "The plan does not fit the problem: %d of its %d visits can stay where they are.", placed, plan.Totals.Placed)
	}
	return d, st, nil
}

// spots probes for a visit as given, cheapest first.
func (d *decoder) spots(st *search.State, i int, as search.Visit) []Spot {
	var out []Spot
	for _, f := range st.Probe(int32(i), as) {
		out = append(out, Spot{Rig: d.p.Rigs[f.Rig].ID, Day: f.Day, Begin: f.Begin, Parts: f.Parts, Adds: Ticks(f.Adds)})
	}
	slices.SortStableFunc(out, func(a, b Spot) int { return cmp.Compare(a.Adds, b.Adds) })
	return out
}
