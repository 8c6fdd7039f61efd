package round_test

import (
	"math"
	"slices"

	"drawbar/routing/round"
)

// oracle finds the cheapest plan of a small problem by trying everything, day
// after day: for each rig, every set of visits, every order, every window,
// every night, every way to split on the grid of MinChunk. It knows the rules
// from the package documentation only and shares no code with the planner.
type oracle struct {
	p   *round.Problem
	rig int
	r   *round.Rig
}

// optimum is the cheapest total, in ticks.
func optimum(p *round.Problem) int64 {
	n := len(p.Visits)
	total := make([]int64, 1<<n) // by set of visits placed
	for i := range total {
		total[i] = math.MaxInt64
	}
	total[0] = 0
	for r := range p.Rigs {
		o := oracle{p: p, rig: r, r: &p.Rigs[r]}
		total = combine(total, o.bySet())
	}
	best := int64(math.MaxInt64)
	for set, cost := range total {
		if cost < math.MaxInt64 {
			best = min(best, cost+outCost(p, set))
		}
	}
	return best
}

func combine(a, b []int64) []int64 {
	out := make([]int64, len(a))
	for set := range out {
		out[set] = math.MaxInt64
		for sub := set; ; sub = (sub - 1) & set {
			if x, y := a[set^sub], b[sub]; x < math.MaxInt64 && y < math.MaxInt64 {
				out[set] = min(out[set], x+y)
			}
			if sub == 0 {
				break
			}
		}
	}
	return out
}

func outCost(p *round.Problem, placed int) int64 {
	var minor int64
	for i, v := range p.Visits {
		if placed>>i&1 == 0 {
			minor += v.Value
			if v.Promise != nil {
				minor += p.Costs.MoveDay
			}
		}
	}
	return minor * 18000
}

// key is all that the next day needs to know.
type key struct {
	set    int
	last   int // visit the rig stands at; -1 = home, -2 = where it stood at first
	lodged bool
	rest   int32 // seconds of work left at last, when it is split
	whole  int32 // of so many
	late90 int32 // and by so many later at its 90 % time
	seen   [round.Classes]int
}

const never = -1000

// bySet is the cheapest cost of this rig alone for every set of visits.
func (o *oracle) bySet() []int64 {
	start := key{last: -1, seen: [round.Classes]int{never, never, never, never}}
	if s := o.r.Standing; s != nil {
		start.last, start.lodged = -2, s.Lodged
	}
	for _, v := range o.r.Visited {
		start.seen[v.Class] = max(start.seen[v.Class], -v.DaysAgo)
	}
	layer := map[key]int64{start: 0}
	for d := range o.p.Days {
		next := map[key]int64{}
		for k, cost := range layer {
			o.day(d, k, cost, next)
		}
		layer = next
	}
	out := make([]int64, 1<<len(o.p.Visits))
	for i := range out {
		out[i] = math.MaxInt64
	}
	for k, cost := range layer {
		if k.last == -1 {
			out[k.set] = min(out[k.set], cost)
		}
	}
	return out
}

func note(next map[key]int64, k key, cost int64) {
	if old, ok := next[k]; !ok || cost < old {
		next[k] = cost
	}
}

// day tries everything that can be done on a day from where the last one ended.
func (o *oracle) day(d int, k key, cost int64, next map[key]int64) {
	rd := &o.r.Days[d]
	if rd.AtHome && k.last != -1 {
		return
	}
	if k.rest == 0 {
		o.idle(d, k, cost, next)
	}
	if rd.Closed != "" {
		return
	}
	run := route{key: k}
	if k.rest > 0 {
		o.resume(d, run, cost, next)
		return
	}
	o.extend(d, run, cost, next)
}

func (o *oracle) idle(d int, k key, cost int64, next map[key]int64) {
	rd := &o.r.Days[d]
	switch {
	case k.last == -1, !k.lodged && d < o.p.Days-1:
		note(next, k, cost)
	case k.lodged && rd.MayLodge && d < o.p.Days-1:
		note(next, k, cost+o.p.Costs.NightOut*18000)
	}
	if k.last == -2 && rd.Closed == "" {
		s := o.r.Standing
		spent, ticks := o.tow(s.Place, o.r.Home)
		spent += s.Pack + o.p.Hygiene.Home[s.Class]
		if !k.lodged {
			there, t := o.solo(o.r.Home, s.Place)
			spent, ticks = spent+there, ticks+t
		}
		if price, ok := o.hours(d, rd.Start, rd.Start+spent); ok {
			k.last, k.lodged = -1, false
			note(next, k, cost+price+ticks+o.p.Costs.RigDay*18000)
		}
	}
}

// task is one stop of a day being tried.
type task struct {
	visit       int
	edge        int32 // seconds from the work before, or from bed, to this work
	work, of    int32 // of so much, when it is split
	late90      int32 // by so much later at its 90 % time, all of it
	early, late int32
	window      int64 // minor
	whole       bool  // not split
	first       bool  // its promise is judged by this stop
}

// route is a day being put together.
type route struct {
	key   key // where it stands
	tasks []task
	money int64 // ticks for kilometres
	load  int64
	dirt  int // highest class so far today
}

// resume goes on with a split visit: to its end, or by one more part.
func (o *oracle) resume(d int, run route, cost int64, next map[key]int64) {
	v := &o.p.Visits[run.key.last]
	if v.DoneWithin > 0 && d >= v.DoneWithin || !o.able(d, v) {
		return
	}
	var edge int32
	if !run.key.lodged {
		there, ticks := o.solo(o.r.Home, v.Place)
		edge, run.money = there, ticks
	}
	run.dirt = v.Class
	for work := run.key.rest; work >= v.MinChunk; work-- {
		if work != run.key.rest {
			work -= work % v.MinChunk
		}
		if left := run.key.rest - work; left > 0 && left < v.MinChunk || work < v.MinChunk {
			continue
		}
		part := run
		part.key.rest -= work
		part.key.seen[v.Class] = d
		part.load = o.share(v, work, run.key.whole)
		part.tasks = []task{o.lit(d, task{visit: run.key.last, edge: edge, work: work, of: run.key.whole, late90: run.key.late90, late: round.Day})}
		if part.key.rest == 0 {
			part.key.whole, part.key.late90 = 0, 0
		}
		o.close(d, part, cost, next)
		if part.key.rest == 0 {
			o.extend(d, part, cost, next)
		}
	}
}

func (o *oracle) share(v *round.Visit, work, whole int32) int64 {
	return (v.Load*int64(work) + int64(whole) - 1) / int64(whole)
}

// times are those of the crew of a day; where it may not come it packs down
// like the usual one.
func (o *oracle) times(d int, v *round.Visit) (times round.Times, may bool) {
	who := o.r.ID
	if crew := o.r.Days[d].Crew; crew != "" {
		who = crew
	}
	if times, may = v.Times[who]; !may {
		times = v.Times[o.r.ID]
	}
	return times, may
}

func (o *oracle) lit(d int, t task) task {
	if !o.p.Visits[t.visit].Lit {
		t.early = max(t.early, o.p.Daylight[d].From)
		t.late = min(t.late, o.p.Daylight[d].To-t.work)
	}
	return t
}

// extend adds every visit that can come next.
func (o *oracle) extend(d int, run route, cost int64, next map[key]int64) {
	for i := range o.p.Visits {
		v := &o.p.Visits[i]
		if run.key.set>>i&1 == 1 || !o.may(d, i, &run) {
			continue
		}
		with := run
		edge, ticks := o.approach(d, &run, v)
		if edge < 0 {
			continue
		}
		with.money += ticks
		with.key.set |= 1 << i
		with.key.last, with.key.lodged = i, false
		with.key.seen[v.Class] = d
		with.dirt = v.Class
		o.windows(d, i, with, edge, cost, next)
	}
}

func (o *oracle) able(d int, v *round.Visit) bool {
	if _, may := o.times(d, v); !may {
		return false
	}
	for _, need := range v.Needs {
		if !slices.Contains(o.r.Has, need) && !slices.Contains(o.r.Days[d].Skills, need) {
			return false
		}
	}
	return true
}

func (o *oracle) may(d, i int, run *route) bool {
	v := &o.p.Visits[i]
	if !o.able(d, v) || v.DoneWithin > 0 && d >= v.DoneWithin {
		return false
	}
	if tooBig(o.r.Size, v.Limits) || v.Class < run.dirt {
		return false
	}
	if p := v.Pin; p != nil && (p.Rig != "" && p.Rig != o.r.ID || p.Day != round.AnyDay && p.Day != d) {
		return false
	}
	for class, day := range run.key.seen {
		if d-day < o.p.Hygiene.Wait[class][v.Class] {
			return false
		}
	}
	return true
}

// approach is the way to a visit's work from where the day is.
func (o *oracle) approach(d int, run *route, v *round.Visit) (int32, int64) {
	times, _ := o.times(d, v)
	setUp := times.SetUp
	if run.key.last == -1 {
		sec, ticks := o.tow(o.r.Home, v.Place)
		return sec + setUp, ticks
	}
	place, pack, class, ready := o.stands(d, run.key.last)
	var sec int32
	var ticks int64
	if len(run.tasks) == 0 && !run.key.lodged {
		sec, ticks = o.solo(o.r.Home, place)
	}
	sec += o.p.Hygiene.Between[class][v.Class]
	if place == v.Place {
		if !ready {
			sec += setUp
		}
		return sec, ticks
	}
	drive, t := o.tow(place, v.Place)
	return sec + pack + drive + setUp, ticks + t
}

func (o *oracle) stands(d, last int) (place string, pack int32, class int, ready bool) {
	if last == -2 {
		s := o.r.Standing
		return s.Place, s.Pack, s.Class, s.SetUp
	}
	v := &o.p.Visits[last]
	times, _ := o.times(d, v)
	return v.Place, times.Pack, v.Class, true
}

// windows tries a visit in every window, and in the part of it that keeps its
// promise; whole or begun.
func (o *oracle) windows(d, i int, run route, edge int32, cost int64, next map[key]int64) {
	v := &o.p.Visits[i]
	times, _ := o.times(d, v)
	work := times.Work
	windows := v.Windows
	if len(windows) == 0 {
		windows = []round.Window{{ToDay: o.p.Days, To: round.Day}}
	}
	for _, w := range windows {
		if d < w.FromDay || d > w.ToDay {
			continue
		}
		if v.Pin != nil && v.Pin.Start != round.AnyTime {
			w.From, w.To = max(w.From, v.Pin.Start), min(w.To, v.Pin.Start)
		}
		ways := [][2]int32{{w.From, w.To}}
		if v.Promise != nil {
			ways = append(ways, [2]int32{max(w.From, v.Promise.Start-o.p.Costs.Tolerance), min(w.To, v.Promise.Start+o.p.Costs.Tolerance)})
		}
		for _, way := range ways {
			t := task{visit: i, edge: edge, work: work, of: work, late90: times.Late90, early: way[0], late: way[1], window: w.Extra, whole: true, first: true}
			o.try(d, run, t, 0, cost, next)
			if v.MinChunk > 0 && v.MayStay {
				t.whole = false
				for t.work = v.MinChunk; work-t.work >= v.MinChunk; t.work += v.MinChunk {
					o.try(d, run, t, work-t.work, cost, next)
				}
			}
		}
	}
}

func (o *oracle) try(d int, run route, t task, rest int32, cost int64, next map[key]int64) {
	t = o.lit(d, t)
	run.tasks = append(slices.Clone(run.tasks), t)
	run.key.rest = rest
	if rest > 0 {
		run.key.whole, run.key.late90 = t.of, t.late90
	}
	run.load += o.share(&o.p.Visits[t.visit], t.work, t.of)
	if most := o.r.Days[d].MaxLoad; most > 0 && run.load > most {
		return
	}
	if _, ok := o.clock(d, run.tasks, 0); !ok {
		return
	}
	o.close(d, run, cost, next)
	if rest == 0 {
		o.extend(d, run, cost, next)
	}
}
