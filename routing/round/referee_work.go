package round

import (
	"math"
	"slices"
)

// work checks what each stop of a round asks of rig, crew, time and light.
func (j *referee) work(r *Round) {
	var load int64
	for i := range r.Stops {
		s := &r.Stops[i]
		v := j.visit[s.Visit]
		j.mayCome(r, v)
		j.when(r, s, v)
		j.pinned(r, s, v)
		load += j.loadOf(r, s, v)
	}
	if most := j.rig[r.Rig].Days[r.Day].MaxLoad; most > 0 && load > most {
		j.object(RuleLoad, r.Rig, r.Day, "", "%d, more than %d", load, most)
	}
}

// loadOf is what a stop counts: a part by its share of the work, rounded up.
func (j *referee) loadOf(r *Round, s *Stop, v *Visit) int64 {
	if s.Parts == 1 {
		return v.Load
	}
	share := float64(s.Done-s.Begin) / float64(j.begun(v, r, s).Work)
	return int64(math.Ceil(float64(v.Load)*share - 1e-9))
}

// begun are the times of the crew that begins a visit, of which this is a part.
func (j *referee) begun(v *Visit, r *Round, s *Stop) Times {
	if first := j.rounds[rigDay{r.Rig, r.Day + 1 - s.Part}]; first != nil {
		return j.times(v, first)
	}
	return j.times(v, r) // parts objects
}

func (j *referee) mayCome(r *Round, v *Visit) {
	rig := j.rig[r.Rig]
	if _, ok := v.Times[j.crew(r)]; !ok {
		j.object(RuleAllowed, r.Rig, r.Day, v.ID, "not named")
	}
	for _, need := range v.Needs {
		if !slices.Contains(rig.Has, need) && !slices.Contains(rig.Days[r.Day].Skills, need) {
			j.object(RuleNeeds, r.Rig, r.Day, v.ID, "lacks %s", need)
		}
	}
	for _, side := range [][2]int32{
		{rig.Size.Width, v.Limits.Width}, {rig.Size.Length, v.Limits.Length},
		{rig.Size.Height, v.Limits.Height}, {rig.Size.Mass, v.Limits.Mass},
	} {
		if side[1] > 0 && side[0] > side[1] {
			j.object(RuleSize, r.Rig, r.Day, v.ID, "%d, but %d fits", side[0], side[1])
		}
	}
}

// when checks window, days and light.
func (j *referee) when(r *Round, s *Stop, v *Visit) {
	inside := len(v.Windows) == 0 || s.Part > 1
	for _, w := range v.Windows {
		inside = inside || w.FromDay <= r.Day && r.Day <= w.ToDay && w.From <= s.Begin && s.Begin <= w.To
	}
	if !inside {
		j.object(RuleWindow, r.Rig, r.Day, v.ID, "begins at %d", s.Begin)
	}
	if v.DoneWithin > 0 && r.Day >= v.DoneWithin {
		j.object(RuleWithin, r.Rig, r.Day, v.ID, "to be done within %d days", v.DoneWithin)
	}
	if light := j.p.Daylight[r.Day]; !v.Lit && (s.Begin < light.From || s.Done > light.To) {
		j.object(RuleDaylight, r.Rig, r.Day, v.ID, "works %d to %d, light %d to %d", s.Begin, s.Done, light.From, light.To)
	}
}

func (j *referee) pinned(r *Round, s *Stop, v *Visit) {
	p := v.Pin
	if p == nil || s.Part > 1 {
		return
	}
	if p.Rig != "" && p.Rig != r.Rig || p.Day != AnyDay && p.Day != r.Day || p.Start != AnyTime && p.Start != s.Begin {
		j.object(RulePin, r.Rig, r.Day, v.ID, "begins at %d, pinned to %+v", s.Begin, *p)
	}
}

// cleanFirst checks that classes do not go down in a day, nor need a wait.
func (j *referee) cleanFirst(r *Round) {
	for i := range r.Stops {
		for k := i + 1; k < len(r.Stops); k++ {
			a, b := j.visit[r.Stops[i].Visit], j.visit[r.Stops[k].Visit]
			if a.Class > b.Class {
				j.object(RuleDirt, r.Rig, r.Day, b.ID, "class %d after class %d", b.Class, a.Class)
			}
		}
	}
}

// parts checks visits spread over days.
func (j *referee) parts() {
	type where struct {
		r *Round
		i int
	}
	all := map[string][]where{}
	for i := range j.plan.Rounds {
		for k := range j.plan.Rounds[i].Stops {
			id := j.plan.Rounds[i].Stops[k].Visit
			all[id] = append(all[id], where{&j.plan.Rounds[i], k})
		}
	}
	for i := range j.p.Visits {
		v := &j.p.Visits[i]
		stops := all[v.ID]
		if len(stops) == 0 {
			continue
		}
		slices.SortStableFunc(stops, func(a, b where) int { return a.r.Day - b.r.Day })
		var work int32
		for n, w := range stops {
			s := &w.r.Stops[w.i]
			work += s.Done - s.Begin
			j.part(v, w.r, w.i, n, stops[0].r)
		}
		if want := j.times(v, stops[0].r).Work; work != want {
			j.object(RuleWork, stops[0].r.Rig, stops[0].r.Day, v.ID, "%d, not %d", work, want)
		}
		if len(stops) > 1 && (v.MinChunk == 0 || !v.MayStay) {
			j.object(RuleSplit, stops[0].r.Rig, stops[0].r.Day, v.ID, "in %d parts", len(stops))
		}
	}
}

// part checks the n-th part of a visit that began in round first.
func (j *referee) part(v *Visit, r *Round, i, n int, first *Round) {
	s := &r.Stops[i]
	if s.Part != n+1 || r.Rig != first.Rig || r.Day != first.Day+n {
		j.object(RuleParts, r.Rig, r.Day, v.ID, "part %d on day %d, begun on day %d by %s", s.Part, r.Day, first.Day, first.Rig)
	}
	if n > 0 && i > 0 || s.Part < s.Parts && i < len(r.Stops)-1 {
		j.object(RuleParts, r.Rig, r.Day, v.ID, "something else between two parts")
	}
	if s.Parts > 1 && s.Done-s.Begin < v.MinChunk {
		j.object(RuleChunk, r.Rig, r.Day, v.ID, "part %d of %d", s.Done-s.Begin, v.MinChunk)
	}
}
