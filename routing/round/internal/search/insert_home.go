package search

// searchHome tries every position on a day of a rig that is always home at
// night.
func (t *trial) searchHome(best *spot) int64 {
	m, g, stop := t.st.m, t.g, &t.stop
	x, rd := t.x, &t.rig.Days[t.d]
	second := m.Price.Second
	k := len(x.stops)
	free, prev, left := rd.Start, g.Home, x.first[Home]
	var latest int32
	least := int64(none)
	for pos := 0; pos <= k; pos++ {
		next := g.Home
		if pos < k {
			next = x.stops[pos].Visit
			latest = x.rest(Home, pos).Late
		} else {
			left, latest = x.end[Home], rd.Latest
		}
		if pos > 0 {
			free = x.pre[Home][pos-1].finish()
			if pos < k {
				left = x.slots[pos].link
			}
		}
		if free > stop.Late {
			return least // nothing further on is earlier
		}
		in, out := g.into(prev, stop.Visit), g.Edge(stop.Visit, next)
		path := in.Money + out.Money + stop.Extra - left.Money
		if k == 0 {
			path = in.Money + out.Money + stop.Extra + m.Price.RigDay
		}
		arrive := free + in.Dur
		hours := stop.Work + in.Dur + out.Dur - left.Dur
		prev = next
		if arrive > stop.Late || max(arrive, stop.Early)+stop.Work+out.Dur > latest {
			continue
		}
		if adds := path + second*int64(max(hours-x.idling, 0)); adds >= best.delta && hours >= 0 {
			least = min(least, adds)
		} else if m.clean(x, pos, t.vis.Class) {
			least = min(least, t.offer(pos, path, best))
		}
	}
	return least
}

// offer takes a position that is in time if it beats the best, hours included,
// and returns what it adds.
func (t *trial) offer(pos int, path int64, best *spot) int64 {
	delta := path
	if t.st.m.Timed || t.rig.Days[t.d].Longest < far/2 {
		delta = t.timedHome(pos, path)
	}
	if delta < best.delta {
		*best = spot{delta: delta, pos: int32(pos)}
	}
	return delta
}

// timedHome is what the insertion adds when the length of the day matters.
func (t *trial) timedHome(pos int, path int64) int64 {
	m, x, g := t.st.m, t.x, t.g
	rd, k := &t.rig.Days[t.d], len(x.stops)
	run, prev := Seg{Early: rd.Start, Late: far}, g.Home
	if pos > 0 {
		run, prev = x.pre[Home][pos-1], x.stops[pos-1].Visit
	}
	run = join(run, g.into(prev, t.v).Dur, t.stop.seg())
	last, toBed := &t.stop, int32(0)
	if pos < k {
		last, toBed = &x.stops[k-1], x.end[Home].Dur
		run = join(run, g.Edge(t.v, x.stops[pos].Visit).Dur, *x.rest(Home, pos))
	} else {
		toBed = g.Edge(t.v, g.Home).Dur
		run = join(run, toBed, Seg{Late: rd.Latest})
	}
	cost := m.dayCost(t.rig, t.d, Home, run, toBed, x.spread+t.stop.Spread, last)
	if cost >= none {
		return none
	}
	if k == 0 {
		return cost + path - m.Price.RigDay
	}
	return cost + path - (x.cost[Home][Home] - x.first[Home].Money - x.inner.Money - x.end[Home].Money)
}
