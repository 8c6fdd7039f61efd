package round

// account fills in the cost and the totals of a plan from its rounds.
func (p *Problem) account(plan *Plan) {
	byID := p.visitsByID()
	for i := range plan.Rounds {
		p.accountRound(plan, &plan.Rounds[i])
		for j := range plan.Rounds[i].Stops {
			s := &plan.Rounds[i].Stops[j]
			if s.Part == 1 {
				v := &p.Visits[byID[s.Visit]]
				plan.Cost.Promises += p.moved(v, plan.Rounds[i].Rig, plan.Rounds[i].Day, s.Begin)
				plan.Cost.Windows += windowPrice(v, plan.Rounds[i].Day, s.Begin)
				plan.Totals.Placed++
			}
		}
	}
	for _, n := range plan.Nights {
		plan.Totals.Nights++
		if n.Lodged {
			plan.Totals.Lodged++
			plan.Cost.Nights += Ticks(p.Costs.NightOut) * TicksPerMinor
		}
	}
	for _, l := range plan.LeftOut {
		v := &p.Visits[byID[l.Visit]]
		plan.Cost.LeftOut += Ticks(v.Value) * TicksPerMinor
		if v.Promise != nil {
			plan.Cost.Promises += Ticks(p.Costs.MoveDay) * TicksPerMinor
		}
	}
	plan.Totals.LeftOut = len(plan.LeftOut)
}

func (p *Problem) accountRound(plan *Plan, r *Round) {
	c := &p.Costs
	plan.Cost.Hours += Ticks(int64(r.Duty) * c.Hour * perSecond)
	plan.Cost.Overtime += Ticks(int64(r.Over) * c.OvertimeHour * perSecond)
	plan.Cost.Risk += Ticks(int64(r.Late) * c.LateHour * perSecond)
	plan.Cost.Days += Ticks(c.RigDay) * TicksPerMinor
	plan.Totals.Duty += int64(r.Duty)
	plan.Totals.Overtime += int64(r.Over)
	for _, d := range r.drives() {
		perKm := c.Km
		if d.Solo {
			perKm = c.SoloKm
		}
		plan.Cost.Driving += Ticks(int64(d.Metres) * perKm * perMetre)
		plan.Totals.Drive += int64(d.Seconds)
		plan.Totals.Metres += int64(d.Metres)
	}
}

// drives are the drives of a round in order.
func (r *Round) drives() []*Drive {
	var out []*Drive
	if r.Fetch != nil {
		out = append(out, r.Fetch)
	}
	for i := range r.Stops {
		if r.Stops[i].Drive != nil {
			out = append(out, r.Stops[i].Drive)
		}
	}
	if r.Back != nil {
		out = append(out, r.Back)
	}
	return out
}

// moved is what a visit's place costs against its promise.
func (p *Problem) moved(v *Visit, rig string, day int, begin int32) Ticks {
	if v.Promise == nil {
		return 0
	}
	var minor int64
	if v.Promise.Rig != rig {
		minor += p.Costs.MoveRig
	}
	off := begin - v.Promise.Start
	switch {
	case v.Promise.Day != day:
		minor += p.Costs.MoveDay
	case off > p.Costs.Tolerance || -off > p.Costs.Tolerance:
		minor += p.Costs.MoveTime
	}
	return Ticks(minor) * TicksPerMinor
}

// windowPrice is the least extra of the windows in which work may begin then.
func windowPrice(v *Visit, day int, begin int32) Ticks {
	best := int64(-1)
	for _, w := range windowsOn(v, day) {
		if w.From <= begin && begin <= w.To && (best < 0 || w.Extra < best) {
			best = w.Extra
		}
	}
	return Ticks(max(best, 0)) * TicksPerMinor
}

func (p *Problem) visitsByID() map[string]int {
	out := make(map[string]int, len(p.Visits))
	for i := range p.Visits {
		out[p.Visits[i].ID] = i
	}
	return out
}

func (p *Problem) rigsByID() map[string]int {
	out := make(map[string]int, len(p.Rigs))
	for i := range p.Rigs {
		out[p.Rigs[i].ID] = i
	}
	return out
}
