package search

// searchNights tries every position on a day of a rig that may stay out, with
// the nights before and after chosen anew for each. It returns what the stop
// adds at the least, and whether it could be in time with other nights.
func (t *trial) searchNights(best *spot) (least int64, ever bool) {
	least = none
	from, to := 0, len(t.x.stops)
	if to > 0 && t.x.stops[0].opens() {
		from++
	}
	if to > 0 && t.x.stops[to-1].closes() {
		to--
	}
	for pos := from; pos <= to; pos++ {
		if !t.squeezes(pos) {
			continue
		}
		adds := t.bound(pos)
		if adds >= none || adds < best.delta && !t.st.m.clean(t.x, pos, t.vis.Class) {
			continue
		}
		ever = true
		if adds < best.delta {
			if adds = t.at(pos); adds < best.delta {
				*best = spot{delta: adds, pos: int32(pos)}
			}
		}
		least = min(least, adds)
	}
	return least, ever
}

// squeezes tells whether the stop might be in time at a position, before any
// drive is looked up.
func (t *trial) squeezes(pos int) bool {
	from, to := t.rig.Days[t.d].Start, t.rig.Days[t.d].Latest
	in, out := t.in, t.out
	if pos > 0 {
		from = t.x.slots[pos-1].free
	} else if t.rig.Standing != nil {
		in = 0
	}
	if pos < len(t.x.stops) {
		to = t.x.slots[pos].late
	} else if t.vis.MayStay {
		out = 0
	}
	begin := max(from+in, t.stop.Early)
	return begin <= t.stop.Late && begin+t.stop.Work+out <= to
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
	first := &t.stop
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
			from = t.st.standing(int(t.r), t.d)
		}
		way := m.begin(t.rig, t.d, s, from, &t.stop)
		run = join(Seg{Early: t.rig.Days[t.d].Start, Late: far}, way.Dur, t.stop.seg())
		money += way.Money
	} else {
		in := t.g.into(t.x.stops[pos-1].Visit, t.v)
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
	known := t.rs.cost < none // or it may mend the plan
	switch {
	case pos > 0:
		in = t.g.into(x.stops[pos-1].Visit, t.v)
		ready = x.slots[pos-1].free + in.Dur
	case k == 0 || t.rs.fwd[t.d][Solo] < none || t.rs.fwd[t.d][Lodge] < none:
		known = false
	default:
		in = t.g.into(t.g.Home, t.v)
		left = x.first[Home]
		ready += in.Dur
	}
	if ready > t.stop.Late {
		return none
	}
	if pos == k {
		out = t.g.Edge(t.v, t.g.Home)
		left = x.end[Home]
		known = known && !t.vis.MayStay
	} else {
		out = t.g.Edge(t.v, x.stops[pos].Visit)
		if max(ready, t.stop.Early)+t.stop.Work+out.Dur > x.slots[pos].late {
			return none
		}
		if pos > 0 {
			left = x.slots[pos].link
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
		inner -= t.x.slots[pos].link.Money
	}
	if pos == k {
		return t.last(run, money+inner)
	}
	out := t.g.Edge(t.v, t.x.stops[pos].Visit)
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
		cost := t.st.m.dayCost(t.rig, t.d, s2, whole, t.bed[s2].Dur, t.x.spread+t.stop.Spread, &t.stop)
		if cost < none {
			best = min(best, cost+money+t.bed[s2].Money+t.after[s2])
		}
	}
	return best
}

func (t *trial) endings() {
	m, v := t.st.m, t.v
	t.bed = [states]Edge{t.g.Edge(v, t.g.Home), t.g.Back[v], {}}
	for s2 := range states {
		t.after[s2] = none
		if m.mayRest(t.rig, t.d, s2, &t.stop) {
			t.after[s2] = t.st.tail(int(t.r), t.d, s2, t.v)
		}
	}
	t.ended = true
}
