package round

import (
	"slices"

	"drawbar/routing/round/internal/search"
)

// explainer finds out why visits are left out of a plan, and what would give
// them a place.
type explainer struct {
	d     *decoder
	now   *search.State // the plan
	empty *search.State // nothing in it
	loose *search.State // the plan, without waits after other flocks
	long  *search.State // the plan, with longer days
	airy  *compiler     // choices without waits
}

// longer is by how much a day could be longer.
const longer = 2 * 60 * 60

// explain fills in the reasons of a plan that came from a snapshot.
func (d *decoder) explain(plan *Plan, snap search.Snapshot) {
	if len(plan.LeftOut) == 0 {
		return
	}
	e := d.explainer(snap)
	for i := range plan.LeftOut {
		l := &plan.LeftOut[i]
		at := slices.IndexFunc(d.p.Visits, func(v Visit) bool { return v.ID == l.Visit })
		l.Reason = e.reason(at)
		l.Way = e.way(at, &l.Reason)
	}
}

func (d *decoder) explainer(snap search.Snapshot) *explainer {
	state := func(change func(*search.Model)) *search.State {
		m := d.m.Variant()
		change(m)
		st := search.NewState(m)
		st.Load(snap)
		return st
	}
	e := &explainer{d: d, empty: search.NewState(d.m.Variant())}
	e.now = state(func(*search.Model) {})
	e.long = state(func(m *search.Model) {
		for r := range m.Rigs {
			for i := range m.Rigs[r].Days {
				day := &m.Rigs[r].Days[i]
				day.Latest, day.Longest = min(day.Latest+longer, Day), day.Longest+longer
			}
		}
	})
	e.loose = state(func(m *search.Model) { m.HasWait, m.Wait = false, [Classes][Classes]int{} })
	p := *d.p
	p.Hygiene.Wait = [Classes][Classes]int{}
	airy := *d.c
	airy.p = &p
	e.airy = &airy
	return e
}

// reason is the first cause that holds for every rig.
func (e *explainer) reason(i int) Reason {
	p, v := e.d.p, &e.d.p.Visits[i]
	r := Reason{FromDay: v.firstDay(), ToDay: v.lastDay(p.Days), Nearest: -1}
	var able []*Rig
	for k := range p.Rigs {
		if rig := &p.Rigs[k]; v.mayCome(rig) {
			able = append(able, rig)
		}
	}
	if len(able) == 0 {
		r.Cause = NoRig
		return r
	}
	for _, filter := range []func([]*Rig, *Visit, *Reason) []*Rig{p.equipped, p.fitting, p.reaching, p.working} {
		left := filter(able, v, &r)
		if len(left) == 0 {
			return r
		}
		able = left
	}
	r.Need, r.Dimension, r.Size, r.Limit = "", "", 0, 0
	r.Rig = able[0].ID
	e.crowded(i, &r)
	return r
}

// crowded tells apart what only a search can: whether the visit would find a
// place alone, without waits, or for more money.
func (e *explainer) crowded(i int, r *Reason) {
	as, airy := e.d.m.Visits[i], e.d.m.Visits[i]
	airy.Where = e.airy.choices(&e.d.p.Visits[i])
	if here := e.d.spots(e.now, i, as); len(here) > 0 {
		r.Cause, r.Rig, r.Price, r.Nearest = NotWorth, here[0].Rig, here[0].Adds, here[0].Day
		return
	}
	alone := e.d.spots(e.empty, i, as)
	switch {
	case len(e.d.spots(e.loose, i, airy)) > 0:
		r.Cause = Waiting
	case len(alone) == 0:
		r.Cause = TooLong
	default:
		r.Cause, r.Rig = NoRoom, alone[0].Rig
	}
}

func (v *Visit) mayCome(rig *Rig) bool {
	ok := false
	for d := range rig.Days {
		ok = ok || v.mayTake(rig, d)
	}
	return ok && (v.Pin == nil || v.Pin.Rig == "" || v.Pin.Rig == rig.ID)
}

// firstDay and lastDay are what the windows allow.
func (v *Visit) firstDay() int {
	first := 0
	for i, w := range v.Windows {
		if i == 0 || w.FromDay < first {
			first = w.FromDay
		}
	}
	return max(first, 0)
}

func (v *Visit) lastDay(days int) int {
	last := days - 1
	for i, w := range v.Windows {
		if i == 0 || w.ToDay > last {
			last = w.ToDay
		}
	}
	if v.DoneWithin > 0 {
		last = min(last, v.DoneWithin-1)
	}
	return min(last, days-1)
}

// equipped keeps the rigs that have, with the crew of some day, all it needs.
func (p *Problem) equipped(rigs []*Rig, v *Visit, r *Reason) []*Rig {
	r.Cause = Equipment
	return slices.DeleteFunc(slices.Clone(rigs), func(rig *Rig) bool {
		for _, need := range v.Needs {
			if !slices.Contains(rig.Has, need) && !slices.ContainsFunc(rig.Days, func(d RigDay) bool { return slices.Contains(d.Skills, need) }) {
				r.Need, r.Rig = need, rig.ID
				return true
			}
		}
		return false
	})
}

// fitting keeps the rigs that are no larger than the visit's limits.
func (p *Problem) fitting(rigs []*Rig, v *Visit, r *Reason) []*Rig {
	r.Cause = TooBig
	return slices.DeleteFunc(slices.Clone(rigs), func(rig *Rig) bool {
		for _, side := range []struct {
			name       string
			size, most int32
		}{
			{"width", rig.Size.Width, v.Limits.Width}, {"length", rig.Size.Length, v.Limits.Length},
			{"height", rig.Size.Height, v.Limits.Height}, {"mass", rig.Size.Mass, v.Limits.Mass},
		} {
			if side.most > 0 && side.size > side.most {
				r.Rig, r.Dimension, r.Size, r.Limit = rig.ID, side.name, side.size, side.most
				return true
			}
		}
		return false
	})
}

// reaching keeps the rigs that can be driven there and back.
func (p *Problem) reaching(rigs []*Rig, v *Visit, r *Reason) []*Rig {
	r.Cause = Unreachable
	to, _ := p.Towing.Index(v.Place)
	return slices.DeleteFunc(slices.Clone(rigs), func(rig *Rig) bool {
		from, _ := p.Towing.Index(rig.Home)
		table := p.drives(rig, false)
		return !table.At(from, to).Reachable || !table.At(to, from).Reachable
	})
}

// working keeps the rigs that go out, with what the visit needs, on a day it
// allows.
func (p *Problem) working(rigs []*Rig, v *Visit, r *Reason) []*Rig {
	r.Cause = WrongDays
	return slices.DeleteFunc(slices.Clone(rigs), func(rig *Rig) bool {
		for day := r.FromDay; day <= r.ToDay; day++ {
			if d := &rig.Days[day]; d.Closed == "" && v.allows(day) && v.served(rig, d) {
				return false
			}
		}
		return true
	})
}

func (v *Visit) allows(day int) bool {
	if v.Pin != nil && v.Pin.Day != AnyDay && v.Pin.Day != day {
		return false
	}
	return len(v.Windows) == 0 || slices.ContainsFunc(v.Windows, func(w Window) bool { return w.FromDay <= day && day <= w.ToDay })
}

func (v *Visit) served(rig *Rig, d *RigDay) bool {
	for _, need := range v.Needs {
		if !slices.Contains(rig.Has, need) && !slices.Contains(d.Skills, need) {
			return false
		}
	}
	return true
}

// relaxation is a rule of a visit that may give.
type relaxation struct {
	kind  WayKind
	when  func(v *Visit, r *Reason) bool
	apply func(v *Visit)
}

func open(_ *Visit, r *Reason) bool {
	return r.Cause != NoRig && r.Cause != Equipment && r.Cause != TooBig && r.Cause != Unreachable
}

// relaxations are in the order in which they are preferred at the same price.
var relaxations = []relaxation{
	{OtherTime, open, func(v *Visit) { v.Windows = wholeDays(v.Windows) }},
	{OtherDay, open, func(v *Visit) {
		v.Windows, v.DoneWithin = nil, 0
		if v.Pin != nil {
			v.Pin = &Pin{Rig: v.Pin.Rig, Day: AnyDay, Start: AnyTime}
		}
	}},
	{OtherRig, func(v *Visit, r *Reason) bool { return v.Pin != nil && v.Pin.Rig != "" }, func(v *Visit) {
		v.Pin = &Pin{Day: v.Pin.Day, Start: v.Pin.Start}
	}},
	{Split, func(v *Visit, r *Reason) bool { return open(v, r) && v.MinChunk == 0 }, func(v *Visit) {
		v.MayStay, v.MinChunk = true, splitChunk
	}},
	{Lights, func(v *Visit, r *Reason) bool { return open(v, r) && !v.Lit }, func(v *Visit) { v.Lit = true }},
	{MoreKit, func(_ *Visit, r *Reason) bool { return r.Cause == Equipment }, func(v *Visit) { v.Needs = nil }},
	{SmallerRig, func(_ *Visit, r *Reason) bool { return r.Cause == TooBig }, func(v *Visit) { v.Limits = Size{} }},
}

// splitChunk is the least work of a day that is proposed for splitting.
const splitChunk = 2 * 60 * 60

func wholeDays(windows []Window) []Window {
	whole := slices.Clone(windows)
	for i := range whole {
		whole[i].From, whole[i].To = 0, Day
	}
	return whole
}

// way is the cheapest single rule whose relaxing gives the visit a place
// beside all that the plan has; nil where none does.
func (e *explainer) way(i int, r *Reason) *Way {
	v := &e.d.p.Visits[i]
	if r.Cause == NotWorth {
		return e.better(nil, HigherWork, e.now, i, e.d.m.Visits[i])
	}
	var best *Way
	for _, relax := range relaxations {
		if !relax.when(v, r) {
			continue
		}
		other := *v
		relax.apply(&other)
		as := e.d.c.visit(&other)
		if relax.kind == OtherDay {
			r.Nearest = e.nearest(i, as, r)
		}
		best = e.better(best, relax.kind, e.now, i, as)
	}
	if open(v, r) {
		best = e.better(best, LongerDay, e.long, i, e.d.m.Visits[i])
		airy := e.d.m.Visits[i]
		airy.Where = e.airy.choices(v)
		best = e.better(best, LessWait, e.loose, i, airy)
	}
	return best
}

// better is a way by probing, if it is cheaper than the best so far.
func (e *explainer) better(best *Way, kind WayKind, st *search.State, i int, as search.Visit) *Way {
	spots := e.d.spots(st, i, as)
	if len(spots) == 0 || best != nil && spots[0].Adds >= best.Cost {
		return best
	}
	s := spots[0]
	return &Way{Kind: kind, Rig: s.Rig, Day: s.Day, Begin: s.Begin, Cost: s.Adds}
}

// nearest is the day nearest to the windows on which there would be room.
func (e *explainer) nearest(i int, as search.Visit, r *Reason) int {
	day, least := -1, 1<<30
	for _, s := range e.d.spots(e.now, i, as) {
		if off := max(0, r.FromDay-s.Day, s.Day-r.ToDay); off < least || off == least && s.Day < day {
			day, least = s.Day, off
		}
	}
	return day
}
