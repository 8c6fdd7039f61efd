package search

// trial is one stop tried at the positions of one day of a rig that may stay
// out, with the nights before and after chosen anew for every position.
type trial struct {
	st    *State
	r     int
	rig   *Rig
	rs    *rigState
	x     *day
	d     int
	stop  *Stop
	bed   [states]Edge  // from the stop to bed
	after [states]int64 // the rest of the plan when the stop is the last of its day
	ended bool          // bed and after are filled in
}

// searchNights tries every position of a rig's day.
func (st *State) searchNights(c *Choice, stop *Stop, best *spot) {
	t := trial{st: st, r: int(c.Rig), rig: &st.m.Rigs[c.Rig], rs: &st.rigs[c.Rig], d: int(c.Day), stop: stop}
	t.x = t.rs.days[c.Day]
	k := len(t.x.stops)
	for pos := 0; pos <= k; pos++ {
		if pos > 0 && t.x.stops[pos-1].closes() {
			return
		}
		if pos < k && t.x.stops[pos].opens() || !st.clean(t.x, pos, st.m.Visits[stop.Visit].Class) {
			continue
		}
		if t.least(pos) >= best.delta {
			continue
		}
		if total := t.at(pos); total < none && total-t.rs.cost < best.delta {
			*best = spot{delta: total - t.rs.cost, pos: int32(pos)}
		}
	}
}

// at is the cost of the rig's whole plan with the stop at a position.
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
	return best
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
		dur, ticks := t.in(t.x.stops[pos-1].Visit)
		run = join(t.x.pre[s][pos-1], dur, t.stop.seg())
		money += t.x.first[s].Money + ticks
	}
	return run, money, run.Warp == 0
}

// in is the edge to the stop; the table by rows of the stop stays in the cache.
func (t *trial) in(from int32) (int32, int64) {
	g := t.st.m.Groups[t.rig.Group]
	i := int(t.stop.Visit)*g.stride + int(from)
	return g.inDur[i], g.inMoney[i]
}

// least is less than what the stop can add at a position: its drives, and its
// time but for what is spent waiting anyway. Where it would be the last of the
// day and the rig may stay, it could save what comes after; then nothing is
// known beforehand.
func (t *trial) least(pos int) int64 {
	x, m := t.x, t.st.m
	k := len(x.stops)
	if pos == k && m.Visits[t.stop.Visit].MayStay || k == 0 {
		return -none
	}
	var in, out, left Edge
	if pos == 0 {
		if t.rs.fwd[t.d][Solo] < none || t.rs.fwd[t.d][Lodge] < none {
			return -none
		}
		in.Dur, in.Money = t.in(m.home())
		left = x.first[Home]
	} else {
		in.Dur, in.Money = t.in(x.stops[pos-1].Visit)
	}
	if pos == k {
		out.Dur, out.Money = t.edge(t.stop.Visit, m.home())
		left = x.end[Home]
	} else {
		out.Dur, out.Money = t.edge(t.stop.Visit, x.stops[pos].Visit)
		if pos > 0 {
			left = x.link[pos]
		}
	}
	hours := t.stop.Work + in.Dur + out.Dur - left.Dur - x.idling
	return in.Money + out.Money - left.Money + t.stop.Extra + m.Price.Second*int64(max(hours, 0))
}

func (t *trial) edge(from, to int32) (int32, int64) {
	return t.st.m.Groups[t.rig.Group].edge(from, to)
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
	dur, ticks := t.edge(t.stop.Visit, t.x.stops[pos].Visit)
	best := int64(none)
	last := &t.x.stops[k-1]
	for s2 := range states {
		rest := t.rs.bwd[t.d+1][s2]
		if rest >= none || !t.st.m.mayRest(t.rig, t.d, s2, last) {
			continue
		}
		whole := join(run, dur, *t.x.rest(s2, pos))
		cost := t.st.m.dayCost(t.rig, t.d, s2, whole, t.x.end[s2].Dur, t.x.spread+t.stop.Spread, last)
		if cost < none {
			best = min(best, cost+money+inner+ticks+t.x.end[s2].Money+rest)
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
	dur, money := t.edge(v, m.home())
	t.bed = [states]Edge{{dur, money}, m.Groups[t.rig.Group].Back[v], {}}
	for s2 := range states {
		t.after[s2] = none
		if m.mayRest(t.rig, t.d, s2, t.stop) {
			t.after[s2] = t.st.tail(t.r, t.d, s2, t.stop.Visit)
		}
	}
	t.ended = true
}
