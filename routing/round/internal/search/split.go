package search

// parts is a way of working a visit over several days: the seconds of each.
type parts []int32

// maxFirst bounds how many lengths of a first day are tried.
const maxFirst = 24

// scratchDays is the most days one visit is spread over.
const scratchDays = 8

// searchSplit tries to spread a visit over days from a choice on: every first
// day's length on a grid of MinChunk, then days as full as they go, by
// ordinary hours or by the latest, with the crew going home or lodging.
func (st *State) searchSplit(v int32, c *Choice, best *spot) {
	x := st.rigs[c.Rig].days[c.Day]
	class := st.m.Visits[v].Class
	if k := len(x.stops); !st.m.Visits[v].MayStay || k > 0 && x.stops[k-1].closes() || !st.clean(x, k, class) {
		return
	}
	for n := int32(0); ; n++ {
		p, more := st.splitting(v, c, n)
		if !more {
			return
		}
		if p == nil {
			continue
		}
		if total := st.splitCost(v, c, p); total < none && total-st.rigs[c.Rig].cost < best.delta {
			*best = spot{delta: total - st.rigs[c.Rig].cost, chunks: n + 1}
		}
	}
}

// splitting is the n-th way to split a visit; nil when it comes to nothing,
// false when there are no more.
func (st *State) splitting(v int32, c *Choice, n int32) (parts, bool) {
	work, step := st.m.Groups[st.m.Rigs[c.Rig].Group].Work[v], st.m.Visits[v].MinChunk
	grid := step
	for (work-step)/grid > maxFirst {
		grid += step
	}
	if work < 2*step {
		return nil, false
	}
	const manners = 4 // see room
	const ends = 2    // the last day comes as soon as it can, or one day later
	count := (work-2*step)/grid + 1
	if n >= count*manners*ends {
		return nil, false
	}
	first := step + n/(manners*ends)*grid
	return st.fill(v, c, first, n/ends%manners, n%ends), true
}

// fill makes the parts after the first.
func (st *State) fill(v int32, c *Choice, first, manner, late int32) parts {
	work, step := st.m.Groups[st.m.Rigs[c.Rig].Group].Work[v], st.m.Visits[v].MinChunk
	p := parts{first}
	rest := work - first
	for d := int(c.Day) + 1; d <= int(st.m.Visits[v].Last) && len(p) < scratchDays; d++ {
		room := st.room(v, c, d, manner)
		if room < step {
			return nil
		}
		if rest <= room && (late == 0 || len(p) > 1) {
			return append(p, rest)
		}
		most := min(room, rest-step)
		most -= most % step
		if most < step {
			return nil
		}
		p = append(p, most)
		rest -= most
	}
	return nil
}

// room is how long one can work at a visit's yard on a day spent there alone.
func (st *State) room(v int32, c *Choice, d int, manner int32) int32 {
	rig := &st.m.Rigs[c.Rig]
	rd, g := &rig.Days[d], st.m.Groups[rig.Group]
	from, to := rd.Start, rd.End
	if manner&1 == 1 {
		to = rd.Latest
	}
	if manner&2 == 0 {
		from, to = from+g.Out[v].Dur, to-g.Back[v].Dur
	}
	if !st.m.Visits[v].Lit {
		from, to = max(from, st.m.Dawn[d]), min(to, st.m.Dusk[d])
	}
	if !st.m.Visits[v].Able[c.Rig][d] {
		return 0
	}
	return to - from
}

// part is one day of a visit that is split.
func (st *State) part(v int32, c *Choice, p parts, i int) Stop {
	g := st.m.Groups[st.m.Rigs[c.Rig].Group]
	s := Stop{Visit: v, Part: int32(i + 1), Parts: int32(len(p)), Work: p[i], Late: far}
	if i == 0 {
		s.Early, s.Late, s.Extra = c.Early, c.Late, c.Extra
	}
	whole := int64(g.Work[v])
	s.Spread = Share(g.Spread[v], int64(p[i]), whole)
	s.Load = (st.m.Visits[v].Load*int64(p[i]) + whole - 1) / whole
	st.m.daylight(&s, int(c.Day)+i)
	return s
}

// Share is the part of a whole that falls to one day, rounded down, without
// overflowing for squares of seconds.
func Share(all, part, whole int64) int64 {
	return all/whole*part + all%whole*part/whole
}

// splitCost is the cost of the rig's whole plan with a visit split that way.
func (st *State) splitCost(v int32, c *Choice, p parts) int64 {
	r, first := int(c.Rig), int(c.Day)
	rs := &st.rigs[r]
	sofar := rs.fwd[first]
	for i := 1; i < len(p); i++ {
		if !st.joins(rs.days[first+i], p, i, v) {
			return none // seen before anything is reckoned
		}
	}
	for i := range p {
		x := &st.scratch[i]
		if !st.partDay(v, c, p, i, x) {
			return none
		}
		sofar = forward(&sofar, &x.cost)
	}
	last := first + len(p) - 1
	best := int64(none)
	for s2, cost := range sofar {
		rest := rs.bwd[last+1][s2]
		if len(rs.days[last].stops) == 0 || last == first {
			rest = st.tail(r, last, s2, v)
		}
		if cost < none && rest < none {
			best = min(best, cost+rest)
		}
	}
	return best
}

// partDay reckons a day with one part of a visit in it; false when it cannot
// be.
func (st *State) partDay(v int32, c *Choice, p parts, i int, x *day) bool {
	r, d := int(c.Rig), int(c.Day)+i
	was := st.rigs[r].days[d]
	stop := st.part(v, c, p, i)
	if stop.Early > stop.Late || st.m.HasLoad && was.load+stop.Load > st.m.Rigs[r].Days[d].MaxLoad {
		return false
	}
	x.stops, x.fresh, x.kept = x.stops[:0], 0, 0
	if i == 0 {
		x.from = st.standing(r, d)
		x.stops = append(append(x.stops, was.stops...), stop)
	} else {
		x.from = v
		if !st.mayWait(r, d, st.m.Visits[v].Class) {
			return false
		}
		x.stops = append(append(x.stops, stop), was.stops...)
	}
	st.reckon(r, d, x)
	return true
}

// joins tells whether a later part of v may go before what a day already has.
func (st *State) joins(was *day, p parts, i int, v int32) bool {
	if len(was.stops) == 0 {
		return true
	}
	return i == len(p)-1 && !was.stops[0].opens() && st.clean(was, 0, st.m.Visits[v].Class)
}
