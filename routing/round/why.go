package round

import (
	"context"
	"slices"
)

// explain says why each visit of a plan that is left out has no place, and
// what would give it one.
func (p *Problem) explain(ctx context.Context, plan *Plan) {
	for i := range plan.LeftOut {
		v := p.visit(plan.LeftOut[i].Visit)
		plan.LeftOut[i].Reason = p.reason(ctx, v, plan)
		plan.LeftOut[i].Way = p.way(ctx, v, plan, plan.LeftOut[i].Reason.Cause)
		if w := plan.LeftOut[i].Way; w != nil {
			plan.LeftOut[i].Reason.Nearest = w.Day
		}
	}
}

func (p *Problem) visit(id string) *Visit {
	i := slices.IndexFunc(p.Visits, func(v Visit) bool { return v.ID == id })
	return &p.Visits[i]
}

// reason is the first cause that holds for every rig.
func (p *Problem) reason(ctx context.Context, v *Visit, plan *Plan) Reason {
	r := Reason{FromDay: v.firstDay(), ToDay: v.lastDay(p.Days), Nearest: -1}
	var able []*Rig
	for i := range p.Rigs {
		if rig := &p.Rigs[i]; v.mayCome(rig) {
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
	r.Cause, r.Rig = p.crowded(ctx, v, plan), able[0].ID
	return r
}

func (v *Visit) mayCome(rig *Rig) bool {
	_, ok := v.Times[rig.ID]
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

// crowded tells whether the visit would find a place if it were alone, or if
// it were worth more.
func (p *Problem) crowded(ctx context.Context, v *Visit, plan *Plan) Cause {
	alone := *p
	wanted := *v
	wanted.Value = MaxPrice
	alone.Visits = []Visit{wanted}
	if _, ok := alone.tried(ctx, v.ID, nil); !ok {
		return TooLong
	}
	if _, ok := p.with(v.ID, func(v *Visit) { v.Value = MaxPrice }).tried(ctx, v.ID, plan); ok {
		return NotWorth
	}
	return NoRoom
}

// with is the problem with one visit changed.
func (p *Problem) with(id string, change func(*Visit)) *Problem {
	other := *p
	other.Visits = slices.Clone(p.Visits)
	change(other.visit(id))
	return &other
}

// tried adds the visits that a plan leaves out by cheapest insertion and says
// where one of them went.
func (p *Problem) tried(ctx context.Context, id string, from *Plan) (Way, bool) {
	plan, err := find(ctx, p, Options{Iterations: -1, From: from})
	if err != nil {
		return Way{}, false
	}
	for _, r := range plan.Rounds {
		for _, s := range r.Stops {
			if s.Visit == id && s.Part <= 1 {
				return Way{Rig: r.Rig, Day: r.Day, Begin: s.Begin, Cost: plan.Cost.Total()}, true
			}
		}
	}
	return Way{}, false
}

// relaxations are the rules that may give, the easiest to ask for first.
var relaxations = []struct {
	kind  WayKind
	apply func(p *Problem, id string) *Problem
}{
	{OtherTime, func(p *Problem, id string) *Problem {
		return p.with(id, func(v *Visit) { v.Windows = wholeDays(v.Windows) })
	}},
	{OtherDay, func(p *Problem, id string) *Problem {
		return p.with(id, func(v *Visit) { v.Windows, v.DoneWithin, v.Pin = nil, 0, nil })
	}},
	{Split, func(p *Problem, id string) *Problem {
		return p.with(id, func(v *Visit) { v.MayStay, v.MinChunk = true, splitChunk })
	}},
	{Lights, func(p *Problem, id string) *Problem { return p.with(id, func(v *Visit) { v.Lit = true }) }},
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

// way is the first single rule whose relaxing gives the visit a place beside
// all that the plan has; nil where none does.
func (p *Problem) way(ctx context.Context, v *Visit, plan *Plan, cause Cause) *Way {
	if cause == NoRig || cause == Equipment || cause == TooBig || cause == Unreachable {
		return nil
	}
	for _, relax := range relaxations {
		other := relax.apply(p.with(v.ID, func(v *Visit) { v.Value = MaxPrice }), v.ID)
		if w, ok := other.tried(ctx, v.ID, plan); ok {
			w.Kind, w.Cost = relax.kind, max(w.Cost-plan.Cost.Total()+Ticks(v.Value)*TicksPerMinor, 0)
			return &w
		}
	}
	return nil
}
