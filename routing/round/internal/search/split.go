package search

import "slices"

// parts is a way of working a visit over several days: the seconds of each.
type parts []int32

// maxFirst bounds how many lengths of a first day are tried.
const maxFirst = 24

// scratchDays is the most days one visit is spread over.
const scratchDays = 8

// spread is a way to spread a visit over days, by its number.
type spread struct {
	way   int32
	parts parts
}

// spreads are the ways to spread a visit from a choice on, listed once.
func (st *State) spreads(v int32, i int) []spread {
	vis := &st.m.Visits[v]
	if !vis.splits() {
		return nil
	}
	if st.ways[v] == nil {
		st.ways[v] = make([][]spread, len(vis.Where))
	}
	if st.ways[v][i] == nil {
		st.ways[v][i] = st.spread(v, &vis.Where[i])
	}
	return st.ways[v][i]
}

// spread lists every first day's length on a grid of MinChunk, then days as
// full as they go, by ordinary hours or by the latest, with the crew going home
// or lodging.
func (st *State) spread(v int32, c *Choice) []spread {
	out := []spread{}
	if !st.m.Visits[v].splits() {
		return out
	}
	for n := range st.countWays(v, c) {
		if p := st.splitting(v, c, n); p != nil && !listed(out, p) {
			out = append(out, spread{n, p})
		}
	}
	return out
}

// listed tells whether a way to spread a visit comes to the same as another.
func listed(ways []spread, p parts) bool {
	return slices.ContainsFunc(ways, func(way spread) bool { return slices.Equal(way.parts, p) })
}

// searchSplit tries ways to spread a visit over days. It returns what that
// adds at the least, unsure when something was overlooked.
func (t *trial) searchSplit(ways []spread, best *spot) int64 {
	k := len(t.x.stops)
	if len(ways) == 0 || k > 0 && t.x.stops[k-1].closes() || !t.st.m.clean(t.x, k, t.vis.Class) {
		return none
	}
	if !t.st.opensNext(t.v, t.c) {
		return none
	}
	least := int64(none)
	for i := range ways {
		way := &ways[t.blink.from(int32(i), int32(len(ways)))]
		if t.blink.skip() {
			least = unsure
			continue
		}
		adds := t.st.splitCost(t.v, t.c, way.parts)
		if adds < best.delta {
			*best = spot{delta: adds, chunks: way.way + 1}
		}
		least = min(least, adds)
	}
	return least
}

// opensNext tells whether a second part may go on the day after.
func (st *State) opensNext(v int32, c *Choice) bool {
	d := int(c.Day) + 1
	if d > int(st.m.Visits[v].Last) || !st.m.Visits[v].Able[c.Rig][d] {
		return false
	}
	stops := st.rigs[c.Rig].days[d].stops
	return len(stops) == 0 || !stops[0].opens()
}

// How the days after the first are filled: see room, and whether the last day
// comes as soon as it can or one day later.
const (
	manners = 4
	ends    = 2
)

// grid is by how much the lengths of a first day differ that are tried.
func (st *State) grid(v int32, c *Choice) int32 {
	work, step := st.m.at(c).Work[v], st.m.Visits[v].MinChunk
	grid := step
	for (work-step)/grid > maxFirst {
		grid += step
	}
	return grid
}

// countWays is how many ways there are to split a visit.
func (st *State) countWays(v int32, c *Choice) int32 {
	work, step := st.m.at(c).Work[v], st.m.Visits[v].MinChunk
	if work < 2*step {
		return 0
	}
	return ((work-2*step)/st.grid(v, c) + 1) * manners * ends
}

// splitting is the n-th way to split a visit; nil when it comes to nothing.
func (st *State) splitting(v int32, c *Choice, n int32) parts {
	first := st.m.Visits[v].MinChunk + n/(manners*ends)*st.grid(v, c)
	return st.fill(v, c, first, n/ends%manners, n%ends)
}

// fill makes the parts after the first.
func (st *State) fill(v int32, c *Choice, first, manner, late int32) parts {
	work, step := st.m.at(c).Work[v], st.m.Visits[v].MinChunk
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
	rd, g := &rig.Days[d], st.m.group(rig, d)
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

// part is one day of a visit that is split: all of it takes what it would take
// the crew of the first day.
func (st *State) part(v int32, c *Choice, p parts, i int) Stop {
	g := st.m.at(c)
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

// splitCost is what a visit adds when it is split that way.
func (st *State) splitCost(v int32, c *Choice, p parts) int64 {
	r, first := int(c.Rig), int(c.Day)
	rs := &st.rigs[r]
	for i := range p {
		if !st.joins(v, c, p, i) {
			return none // seen before anything is reckoned
		}
	}
	sofar := rs.fwd[first]
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
	if best >= none {
		return none
	}
	return best - rs.cost
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

// joins tells whether a part of v may go beside what its day already has, and
// might be in time there.
func (st *State) joins(v int32, c *Choice, p parts, i int) bool {
	r, d := int(c.Rig), int(c.Day)+i
	x, k := st.rigs[r].days[d], len(st.rigs[r].days[d].stops)
	if k == 0 {
		return true
	}
	rd, g := &st.m.Rigs[r].Days[d], st.m.group(&st.m.Rigs[r], d)
	stop := st.part(v, c, p, i)
	if i == 0 {
		ready := x.slots[k-1].free + g.into(x.stops[k-1].Visit, v).Dur
		return ready <= stop.Late && max(ready, stop.Early)+stop.Work <= rd.Latest
	}
	ready := max(rd.Start, stop.Early) + stop.Work + g.Edge(v, x.stops[0].Visit).Dur
	return i == len(p)-1 && ready <= x.slots[0].late && !x.stops[0].opens() && st.m.clean(x, 0, st.m.Visits[v].Class)
}
