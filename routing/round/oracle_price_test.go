package round_test

import (
	"math"

	"drawbar/routing"
	"drawbar/routing/round"
)

// How the oracle ends a day: when its work begins, which nights may follow, and
// what all of it costs.

// clock finds when the tasks begin if the day ends as early as it can and
// starts as late as it then can.
func (o *oracle) clock(d int, tasks []task, toBed int32) ([]int32, bool) {
	rd := &o.r.Days[d]
	begins := make([]int32, len(tasks))
	now := rd.Start
	for i, t := range tasks {
		begins[i] = max(now+t.edge, t.early)
		if begins[i] > t.late {
			return nil, false
		}
		now = begins[i] + t.work
	}
	if now+toBed > rd.Latest {
		return nil, false
	}
	latest := begins[len(tasks)-1]
	for i := len(tasks) - 2; i >= 0; i-- {
		latest = min(tasks[i].late, latest-tasks[i+1].edge-tasks[i].work)
	}
	now = latest - tasks[0].edge
	out := []int32{now}
	for _, t := range tasks {
		begin := max(now+t.edge, t.early)
		out = append(out, begin)
		now = begin + t.work
	}
	return append(out, now+toBed), true
}

// close ends the day in every way that is allowed.
func (o *oracle) close(d int, run route, cost int64, next map[key]int64) {
	v := &o.p.Visits[run.key.last]
	rd := &o.r.Days[d]
	if run.key.rest == 0 {
		home := run
		sec, ticks := o.tow(v.Place, o.r.Home)
		times, _ := o.times(d, v)
		sec += times.Pack + o.p.Hygiene.Home[v.Class]
		home.key.last = -1
		o.finish(d, home, sec, ticks, cost, next)
	}
	if !v.MayStay || d == o.p.Days-1 {
		return
	}
	sec, ticks := o.solo(v.Place, o.r.Home)
	run.key.lodged = false
	o.finish(d, run, sec, ticks, cost, next)
	if rd.MayLodge {
		run.key.lodged = true
		o.finish(d, run, 0, o.p.Costs.NightOut*18000, cost, next)
	}
}

func (o *oracle) finish(d int, run route, toBed int32, ticks, cost int64, next map[key]int64) {
	times, ok := o.clock(d, run.tasks, toBed)
	if !ok {
		return
	}
	end := times[len(times)-1]
	hours, ok := o.hours(d, times[0], end)
	if !ok {
		return
	}
	ticks += cost + hours + run.money + o.p.Costs.RigDay*18000 + o.risk(d, run.tasks, end-toBed)
	for i, t := range run.tasks {
		if t.first {
			ticks += (t.window + o.promise(d, t.visit, times[i+1])) * 18000
		}
		if pin := o.p.Visits[t.visit].Pin; t.first && pin != nil && pin.Start != round.AnyTime && pin.Start != times[i+1] {
			return
		}
	}
	note(next, run.key, ticks)
}

func (o *oracle) hours(d int, start, end int32) (int64, bool) {
	rd := &o.r.Days[d]
	if end > rd.Latest || rd.Longest > 0 && end-start > rd.Longest {
		return 0, false
	}
	c := &o.p.Costs
	return 5 * (c.Hour*int64(end-start) + c.OvertimeHour*int64(max(0, end-rd.End))), true
}

func (o *oracle) risk(d int, tasks []task, done int32) int64 {
	if o.p.Visits[tasks[len(tasks)-1].visit].Lit {
		return 0
	}
	var square int64
	for _, t := range tasks {
		s := int64(t.late90) * int64(t.late90)
		if t.work != t.of {
			s = s * int64(t.work) / int64(t.of)
		}
		square += s
	}
	late := done + int32(math.Round(math.Sqrt(float64(square)))) - o.p.Daylight[d].To
	return 5 * o.p.Costs.LateHour * int64(max(0, late))
}

func (o *oracle) promise(d, i int, begin int32) int64 {
	p, c := o.p.Visits[i].Promise, &o.p.Costs
	if p == nil {
		return 0
	}
	var minor int64
	if p.Rig != o.r.ID {
		minor = c.MoveRig
	}
	if p.Day != d {
		return minor + c.MoveDay
	}
	if math.Abs(float64(begin-p.Start)) > float64(c.Tolerance) {
		minor += c.MoveTime
	}
	return minor
}

func tooBig(is, limit round.Size) bool {
	return limit.Width > 0 && is.Width > limit.Width || limit.Length > 0 && is.Length > limit.Length ||
		limit.Height > 0 && is.Height > limit.Height || limit.Mass > 0 && is.Mass > limit.Mass
}

func (o *oracle) tow(from, to string) (int32, int64) {
	return drive(o.p.Towing, o.r.Towing, from, to, o.p.Costs.Km)
}

func (o *oracle) solo(from, to string) (int32, int64) {
	return drive(o.p.Solo, o.r.Solo, from, to, o.p.Costs.SoloKm)
}

// drive is by the rig's own table, if it has one; where there is no way it
// takes longer than any day.
func drive(all, own *routing.Table, from, to string, perKm int64) (int32, int64) {
	if own != nil {
		all = own
	}
	a, _ := all.Index(from)
	b, _ := all.Index(to)
	leg := all.At(a, b)
	if !leg.Reachable {
		return 10 * round.Day, 0
	}
	return leg.Seconds, int64(leg.Metres) * perKm * 18
}
