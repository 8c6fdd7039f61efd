package search

// trial is one stop tried at the positions of one day of a rig that may stay
// out, with the nights before and after chosen anew for every position.
type trial struct {
	st    *State
	r     int
	rig   *Rig
	g     *Group
	rs    *rigState
	x     *day
	d     int
	stop  *Stop
	bed   [states]Edge  // from the stop to bed
	after [states]int64 // the rest of the plan when the stop is the last of its day
	ended bool          // bed and after are filled in
}

// searchNights tries every position of a rig's day, and returns what the stop
// adds at the least.
func (st *State) searchNights(c *Choice, stop *Stop, best *spot) int64 {
	t := trial{st: st, r: int(c.Rig), rig: &st.m.Rigs[c.Rig], rs: &st.rigs[c.Rig], d: int(c.Day), stop: stop}
	t.x, t.g = t.rs.days[c.Day], st.m.Groups[t.rig.Group]
	k := len(t.x.stops)
	least := int64(none)
	if k > 0 && !t.fits() {
		return least
	}
	for pos := 0; pos <= k; pos++ {
		if pos > 0 && t.x.stops[pos-1].closes() {
			break
		}
		if pos < k && t.x.stops[pos].opens() {
			continue
		}
		adds := t.bound(pos)
		if adds < best.delta {
			if !st.clean(t.x, pos, st.m.Visits[stop.Visit].Class) {
				continue
			}
			if adds = t.at(pos); adds < best.delta {
				*best = spot{delta: adds, pos: int32(pos)}
			}
		}
		least = min(least, adds)
	}
	return least
}

// fits tells whether the stop might be in time anywhere among others.
func (t *trial) fits() bool {
	in, out := t.g.in[t.stop.Visit], t.g.out[t.stop.Visit]
	first, last := t.stop.Work+out, t.stop.Work+in
	if t.rig.Standing == nil {
		first += in
	}
	if !t.st.m.Visits[t.stop.Visit].MayStay {
		last += out
	}
	return first <= t.x.gaps[0] || t.stop.Work+in+out <= t.x.gaps[1] || last <= t.x.gaps[2]
}

// at is what the stop adds at a position.
func (t *trial) at(pos int) int64 {
	best := int64(none)
	for s := range states {
		if t.rs.fwd[t.d][s] >= none {
			continue
		}
		run, money, ok := t.upTo(pos, s)
		if !ok {
			continue
		}
		best = min(best, t.rs.fwd[t.d][s]+t.onwards(pos, run, money))
	}
	if best >= none {
		return none
	}
	return best - t.rs.cost
}

// upTo is the day from a night of kind s to the end of the stop's work.
func (t *trial) upTo(pos, s int) (Seg, int64, bool) {
	m := t.st.m
	first := t.stop
	if pos > 0 {
		first = &t.x.stops[0]
	}
	if !mayRise(t.rig, t.d, s, first) {
		return Seg{}, 0, false
	}
	var run Seg
	money := t.stop.Extra
	if pos == 0 {
		from := t.x.from
		if len(t.x.stops) == 0 {
			from = t.st.standing(t.r, t.d)
		}
		way := m.begin(t.rig, s, from, t.stop)
		run = join(Seg{Early: t.rig.Days[t.d].Start, Late: far}, way.Dur, t.stop.seg())
		money += way.Money
	} else {
		in := t.g.into(t.x.stops[pos-1].Visit, t.stop.Visit)
		run = join(t.x.pre[s][pos-1], in.Dur, t.stop.seg())
		money += t.x.first[s].Money + in.Money
	}
	return run, money, run.Warp == 0
}

// bound is what the stop adds at a position at the least: its drives, and its
// time but for what is spent waiting anyway; none when it cannot be in time.
// Where it would be the last of the day and the rig may stay, it could save
// what comes after; then little is known beforehand.
func (t *trial) bound(pos int) int64 {
	x, m := t.x, t.st.m
	k := len(x.stops)
	var in, out, left Edge
	ready := t.rig.Days[t.d].Start
	known := true
	switch {
	case pos > 0:
		in = t.g.into(x.stops[pos-1].Visit, t.stop.Visit)
		ready = x.free[pos-1] + in.Dur
	case k == 0 || t.rs.fwd[t.d][Solo] < none || t.rs.fwd[t.d][Lodge] < none:
		known = false
	default:
		in = t.g.into(t.g.Home, t.stop.Visit)
		left = x.first[Home]
		ready += in.Dur
	}
	if ready > t.stop.Late {
		return none
	}
	if pos == k {
		out = t.g.Edge(t.stop.Visit, t.g.Home)
		left = x.end[Home]
		known = known && !m.Visits[t.stop.Visit].MayStay
	} else {
		out = t.g.Edge(t.stop.Visit, x.stops[pos].Visit)
		if max(ready, t.stop.Early)+t.stop.Work+out.Dur > x.late[pos] {
			return none
		}
		if pos > 0 {
			left = x.link[pos]
		}
	}
	hours := t.stop.Work + in.Dur + out.Dur - left.Dur
	if !known || hours < 0 {
		return unsure
	}
	if pos > 0 && pos < k && x.busy+hours > t.rig.Days[t.d].Longest {
		return none
	}
	return in.Money + out.Money - left.Money + t.stop.Extra + m.Price.Second*int64(max(hours-x.idling, 0))
}

// onwards is the cheapest from the stop on to the end of the plan, with what
// lies before it on the same day, but without the days before.
func (t *trial) onwards(pos int, run Seg, money int64) int64 {
	k := len(t.x.stops)
	inner := t.x.inner.Money
	if pos > 0 && pos < k {
		inner -= t.x.link[pos].Money
	}
	if pos == k {
		return t.last(run, money+inner)
	}
	out := t.g.Edge(t.stop.Visit, t.x.stops[pos].Visit)
	best := int64(none)
	last := &t.x.stops[k-1]
	for s2 := range states {
		rest := t.rs.bwd[t.d+1][s2]
		if rest >= none || !t.st.m.mayRest(t.rig, t.d, s2, last) {
			continue
		}
		whole := join(run, out.Dur, *t.x.rest(s2, pos))
		cost := t.st.m.dayCost(t.rig, t.d, s2, whole, t.x.end[s2].Dur, t.x.spread+t.stop.Spread, last)
		if cost < none {
			best = min(best, cost+money+inner+out.Money+t.x.end[s2].Money+rest)
		}
	}
	return best
}

// last is onwards for a stop that becomes the last of its day.
func (t *trial) last(run Seg, money int64) int64 {
	if !t.ended {
		t.endings()
	}
	best := int64(none)
	for s2 := range states {
		if t.after[s2] >= none {
			continue
		}
		whole := join(run, t.bed[s2].Dur, Seg{Late: t.rig.Days[t.d].Latest})
		cost := t.st.m.dayCost(t.rig, t.d, s2, whole, t.bed[s2].Dur, t.x.spread+t.stop.Spread, t.stop)
		if cost < none {
			best = min(best, cost+money+t.bed[s2].Money+t.after[s2])
		}
	}
	return best
}

func (t *trial) endings() {
	m, v := t.st.m, t.stop.Visit
	t.bed = [states]Edge{t.g.Edge(v, t.g.Home), t.g.Back[v], {}}
	for s2 := range states {
		t.after[s2] = none
		if m.mayRest(t.rig, t.d, s2, t.stop) {
			t.after[s2] = t.st.tail(t.r, t.d, s2, t.stop.Visit)
		}
	}
	t.ended = true
}
