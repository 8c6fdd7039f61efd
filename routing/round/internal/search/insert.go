package search

// spot is a place where a visit could go and what that adds to the plan.
type spot struct {
	delta  int64
	pos    int32
	choice int32
	chunks int32 // 0 = whole; else which way of splitting
}

// Whole is a visit as it would stand at a choice, done in one go.
func (m *Model) Whole(v int32, c *Choice) Stop {
	g := m.Groups[m.Rigs[c.Rig].Group]
	s := Stop{Visit: v, Part: 1, Parts: 1, Work: g.Work[v], Early: c.Early, Late: c.Late, Extra: c.Extra, Spread: g.Spread[v], Load: m.Visits[v].Load}
	m.daylight(&s, int(c.Day))
	return s
}

// daylight narrows a stop to the light of its day.
func (m *Model) daylight(s *Stop, d int) {
	if m.Visits[s.Visit].Lit {
		return
	}
	s.Early = max(s.Early, m.Dawn[d])
	s.Late = min(s.Late, m.Dusk[d]-s.Work)
}

// consider looks at one choice and tells whether it is better than the best so
// far, which it becomes then.
func (st *State) consider(v int32, i int, blink *blinker, best *spot) bool {
	vis := &st.m.Visits[v]
	c := &vis.Where[i]
	k := st.recall(v, i)
	if k.least >= best.delta || !st.mayWait(int(c.Rig), int(c.Day), vis.Class) {
		return false
	}
	found := spot{delta: k.least, pos: k.pos}
	if !k.exact {
		found = spot{delta: best.delta}
		k.least = st.search(v, c, k.ways, blink, &found)
		k.pos, k.exact = found.pos, found.chunks == 0 && found.delta == k.least && k.least < best.delta
	}
	if found.delta >= best.delta {
		return false
	}
	found.choice = int32(i)
	*best = found
	return true
}

// search looks for the cheapest spot at a choice that is better than best. It
// returns what the visit adds there at the least.
func (st *State) search(v int32, c *Choice, ways []spread, blink *blinker, best *spot) int64 {
	stop := st.m.Whole(v, c)
	least := int64(none)
	switch {
	case stop.Early > stop.Late || !st.carries(c, &stop):
	case st.rigs[c.Rig].single:
		least = st.searchHome(c, &stop, best)
	default:
		least = st.searchNights(c, &stop, best)
	}
	return min(least, st.searchSplit(v, c, ways, blink, best))
}

func (st *State) carries(c *Choice, s *Stop) bool {
	return !st.m.HasLoad || st.rigs[c.Rig].days[c.Day].load+s.Load <= st.m.Rigs[c.Rig].Days[c.Day].MaxLoad
}

// clean tells whether a class may stand at a position: nothing dirtier before,
// nothing cleaner after, and no wait to what is before or after.
func (st *State) clean(x *day, pos int, c uint8) bool {
	if !st.m.HasDirt {
		return true
	}
	if pos > 0 {
		before := x.before[pos-1]
		if before>>(c+1) != 0 || st.m.waits(before, c) {
			return false
		}
	}
	for i := pos; i < len(x.stops); i++ {
		after := st.m.Visits[x.stops[i].Visit].Class
		if after < c || st.m.Wait[c][after] > 0 {
			return false
		}
	}
	return true
}

func (m *Model) waits(before uint8, c uint8) bool {
	if !m.HasWait {
		return false
	}
	for b := range uint8(Classes) {
		if before>>b&1 == 1 && m.Wait[b][c] > 0 {
			return true
		}
	}
	return false
}

// searchHome tries every position of a rig that is always home at night.
func (st *State) searchHome(c *Choice, stop *Stop, best *spot) int64 {
	m, rig := st.m, &st.m.Rigs[c.Rig]
	g := m.Groups[rig.Group]
	x, rd := st.rigs[c.Rig].days[c.Day], &rig.Days[c.Day]
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
				left = x.link[pos]
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
		} else if st.clean(x, pos, m.Visits[stop.Visit].Class) {
			least = min(least, st.offer(c, stop, pos, path, best))
		}
	}
	return least
}

// offer takes a position that is in time if it beats the best, hours included,
// and returns what it adds.
func (st *State) offer(c *Choice, stop *Stop, pos int, path int64, best *spot) int64 {
	delta := path
	if st.m.Timed || st.m.Rigs[c.Rig].Days[c.Day].Longest < far/2 {
		delta = st.timedHome(c, stop, pos, path)
	}
	if delta < best.delta {
		*best = spot{delta: delta, pos: int32(pos)}
	}
	return delta
}

// timedHome is what the insertion adds when the length of the day matters.
func (st *State) timedHome(c *Choice, stop *Stop, pos int, path int64) int64 {
	m, rig := st.m, &st.m.Rigs[c.Rig]
	x, rd := st.rigs[c.Rig].days[c.Day], &rig.Days[c.Day]
	g, k := m.Groups[rig.Group], len(x.stops)
	run, prev := Seg{Early: rd.Start, Late: far}, g.Home
	if pos > 0 {
		run, prev = x.pre[Home][pos-1], x.stops[pos-1].Visit
	}
	run = join(run, g.into(prev, stop.Visit).Dur, stop.seg())
	last, toBed := stop, int32(0)
	if pos < k {
		last, toBed = &x.stops[k-1], x.end[Home].Dur
		run = join(run, g.Edge(stop.Visit, x.stops[pos].Visit).Dur, *x.rest(Home, pos))
	} else {
		toBed = g.Edge(stop.Visit, g.Home).Dur
		run = join(run, toBed, Seg{Late: rd.Latest})
	}
	cost := m.dayCost(rig, int(c.Day), Home, run, toBed, x.spread+stop.Spread, last)
	if cost >= none {
		return none
	}
	if k == 0 {
		return cost + path - m.Price.RigDay
	}
	return cost + path - (x.cost[Home][Home] - x.first[Home].Money - x.inner.Money - x.end[Home].Money)
}
