package round

import "math"

// sums checks what a round says about its times: duty, overtime, spread,
// chance and slack.
func (j *referee) sums(r *Round) {
	day := &j.rig[r.Rig].Days[r.Day]
	if r.Duty != r.End-r.Start || r.Over != max(0, r.End-day.End) {
		j.object(RuleDuty, r.Rig, r.Day, "", "duty %d, overtime %d", r.Duty, r.Over)
	}
	if r.Slack < 0 || r.End+r.Slack > day.Latest {
		j.object(RuleSlack, r.Rig, r.Day, "", "%d", r.Slack)
	}
	if len(r.Stops) == 0 {
		return
	}
	var sum80, sum90 float64
	for i := range r.Stops {
		s := &r.Stops[i]
		t := j.begun(j.visit[s.Visit], r, s)
		share := 1.0
		if s.Parts > 1 {
			share = float64(s.Done-s.Begin) / float64(t.Work)
		}
		sum80 += float64(t.Late80) * float64(t.Late80) * share
		sum90 += float64(t.Late90) * float64(t.Late90) * share
		if off(s.Done80-s.Done, sum80) || off(s.Done90-s.Done, sum90) {
			j.object(RuleSpread, r.Rig, r.Day, s.Visit, "80 %% %d, 90 %% %d later, from squares %f and %f", s.Done80-s.Done, s.Done90-s.Done, sum80, sum90)
		}
	}
	j.daylight(r)
}

// off tells whether seconds are not the root of a sum of squares, give or take
// the rounding of shares.
func off(seconds int32, square float64) bool {
	return math.Abs(float64(seconds)-math.Sqrt(square)) > 1
}

// daylight checks lateness and chance at the last stop.
func (j *referee) daylight(r *Round) {
	last := &r.Stops[len(r.Stops)-1]
	late, odds := int32(0), 1.0
	if !j.visit[last.Visit].Lit {
		dusk := j.p.Daylight[r.Day].To
		late = max(0, last.Done90-dusk)
		if sd := float64(last.Done90-last.Done) / 1.28155; sd > 0 {
			odds = 0.5 * (1 + math.Erf(float64(dusk-last.Done)/sd/math.Sqrt2))
		} else if last.Done > dusk {
			odds = 0
		}
	}
	if r.Late != late || math.Abs(r.Chance-odds) > 0.001 {
		j.object(RuleChance, r.Rig, r.Day, last.Visit, "late %d, chance %f, not %d, %f", r.Late, r.Chance, late, odds)
	}
}

// money adds up the whole cost anew.
func (j *referee) money() {
	var want Cost
	for i := range j.plan.Rounds {
		j.roundCost(&j.plan.Rounds[i], &want)
	}
	for _, n := range j.plan.Nights {
		if n.Lodged {
			want.Nights += minor(j.p.Costs.NightOut)
		}
	}
	for _, l := range j.plan.LeftOut {
		want.LeftOut += minor(j.visit[l.Visit].Value)
		if j.visit[l.Visit].Promise != nil {
			want.Promises += minor(j.p.Costs.MoveDay)
		}
	}
	if got := j.plan.Cost; got != want {
		j.object(RuleCost, "", 0, "", "%+v, not %+v", got, want)
	}
}

// minor is a price in ticks.
func minor(price int64) Ticks { return Ticks(price) * 18000 }

func (j *referee) roundCost(r *Round, sum *Cost) {
	c := &j.p.Costs
	perHour := func(price int64, seconds int32) Ticks { return Ticks(price) * Ticks(seconds) * 5 }
	sum.Hours += perHour(c.Hour, r.End-r.Start)
	sum.Overtime += perHour(c.OvertimeHour, max(0, r.End-j.rig[r.Rig].Days[r.Day].End))
	sum.Days += minor(c.RigDay)
	legs := []*Drive{r.Fetch, r.Back}
	for i := range r.Stops {
		s := &r.Stops[i]
		legs = append(legs, s.Drive)
		if s.Part == 1 {
			v := j.visit[s.Visit]
			sum.Windows += minor(cheapestWindow(v, r.Day, s.Begin))
			sum.Promises += minor(j.broken(v, r, s))
		}
	}
	for _, d := range legs {
		if d != nil && d.Solo {
			sum.Driving += Ticks(c.SoloKm) * Ticks(d.Metres) * 18
		} else if d != nil {
			sum.Driving += Ticks(c.Km) * Ticks(d.Metres) * 18
		}
	}
	if n := len(r.Stops); n > 0 && !j.visit[r.Stops[n-1].Visit].Lit {
		sum.Risk += perHour(c.LateHour, max(0, r.Stops[n-1].Done90-j.p.Daylight[r.Day].To))
	}
}

func cheapestWindow(v *Visit, day int, begin int32) int64 {
	price := int64(math.MaxInt64)
	for _, w := range v.Windows {
		if day >= w.FromDay && day <= w.ToDay && begin >= w.From && begin <= w.To {
			price = min(price, w.Extra)
		}
	}
	if price == math.MaxInt64 {
		return 0
	}
	return price
}

// broken is what a placed visit costs against what was promised.
func (j *referee) broken(v *Visit, r *Round, s *Stop) int64 {
	if v.Promise == nil {
		return 0
	}
	c, price := &j.p.Costs, int64(0)
	if v.Promise.Rig != r.Rig {
		price = c.MoveRig
	}
	if v.Promise.Day != r.Day {
		return price + c.MoveDay
	}
	if late := s.Begin - v.Promise.Start; max(late, -late) > c.Tolerance {
		return price + c.MoveTime
	}
	return price
}

// totals adds up the totals anew.
func (j *referee) totals() {
	want := Totals{LeftOut: len(j.plan.LeftOut), Nights: len(j.plan.Nights)}
	want.Placed = len(j.p.Visits) - want.LeftOut
	for i := range j.plan.Rounds {
		r := &j.plan.Rounds[i]
		want.Duty += int64(r.End - r.Start)
		want.Overtime += int64(max(0, r.End-j.rig[r.Rig].Days[r.Day].End))
		legs := []*Drive{r.Fetch, r.Back}
		for k := range r.Stops {
			legs = append(legs, r.Stops[k].Drive)
		}
		for _, d := range legs {
			if d != nil {
				want.Drive += int64(d.Seconds)
				want.Metres += int64(d.Metres)
			}
		}
	}
	for _, n := range j.plan.Nights {
		if n.Lodged {
			want.Lodged++
		}
	}
	if got := j.plan.Totals; got != want {
		j.object(RuleTotals, "", 0, "", "%+v, not %+v", got, want)
	}
}
