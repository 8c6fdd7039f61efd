package search

// sleep finds the best pattern of nights for a rig's day lists, exactly: a
// shortest path over the kind of each night, both ways, anew as far as days
// have been reckoned since.
func (st *State) sleep(r int) {
	rs, rig := &st.rigs[r], &st.m.Rigs[r]
	before := rs.cost
	switch {
	case rs.single:
		rs.cost = 0
		for _, x := range rs.days {
			rs.cost = min(rs.cost+x.cost[Home][Home], none)
		}
	case rs.lo <= rs.hi:
		to, from := rs.onwards(), rs.backwards()
		rs.cost = rs.bwd[0][rig.firstNight()]
		if rs.cost >= none {
			from, to = 0, len(rs.days)-1
		}
		st.chart(r, from, to)
	}
	rs.lo, rs.hi = len(rs.days), -1
	st.cost += rs.cost - before
}

// onwards reckons the nights after the days that changed, and returns the last
// day that sees a change.
func (rs *rigState) onwards() int {
	for d := rs.lo; d < len(rs.days); d++ {
		after := forward(&rs.fwd[d], &rs.days[d].cost)
		if by, even := apart(&rs.fwd[d+1], &after); even && d >= rs.hi {
			shift(rs.fwd[d+1:], by)
			return d
		}
		rs.fwd[d+1] = after
	}
	return len(rs.days) - 1
}

// backwards reckons the nights before the days that changed, and returns the
// first day that sees a change.
func (rs *rigState) backwards() int {
	for d := rs.hi; d >= 0; d-- {
		before := backward(&rs.bwd[d+1], &rs.days[d].cost)
		if by, even := apart(&rs.bwd[d], &before); even && d <= rs.lo {
			shift(rs.bwd[:d+1], by)
			return d
		}
		rs.bwd[d] = before
	}
	return 0
}

// apart tells whether a night became dearer or cheaper by the same, whatever
// its kind: then so does every night beyond.
func apart(was, is *[states]int64) (by int64, even bool) {
	known := false
	for s := range states {
		if was[s] >= none || is[s] >= none {
			if was[s] < none || is[s] < none {
				return 0, false
			}
			continue
		}
		if known && is[s]-was[s] != by {
			return 0, false
		}
		by, known = is[s]-was[s], true
	}
	return by, true
}

func shift(nights [][states]int64, by int64) {
	if by == 0 {
		return
	}
	for i := range nights {
		for s := range states {
			if nights[i][s] < none {
				nights[i][s] += by
			}
		}
	}
}

func (rig *Rig) firstNight() int {
	switch {
	case rig.Standing == nil:
		return Home
	case rig.Standing.Lodged:
		return Lodge
	}
	return Solo
}

func forward(before *[states]int64, cost *[states][states]int64) [states]int64 {
	after := [states]int64{none, none, none}
	for s, sofar := range before {
		if sofar >= none {
			continue
		}
		for s2, c := range cost[s] {
			if c < none {
				after[s2] = min(after[s2], sofar+c)
			}
		}
	}
	return after
}

func backward(after *[states]int64, cost *[states][states]int64) [states]int64 {
	before := [states]int64{none, none, none}
	for s2, rest := range after {
		if rest >= none {
			continue
		}
		for s := range states {
			if c := cost[s][s2]; c < none {
				before[s] = min(before[s], c+rest)
			}
		}
	}
	return before
}

// Nights is the best pattern for a rig: the kind of the night before each day
// and, last, of the night after all.
func (st *State) Nights(r int) []int {
	rs := &st.rigs[r]
	out := make([]int, st.m.Days+1)
	if rs.single {
		return out
	}
	s := st.m.Rigs[r].firstNight()
	out[0] = s
	for d, x := range rs.days {
		for s2 := range states {
			if c := x.cost[s][s2]; c < none && rs.bwd[d+1][s2] < none && c+rs.bwd[d+1][s2] == rs.bwd[d][s] {
				s = s2
				break
			}
		}
		out[d+1] = s
	}
	return out
}

// working is the first day with stops from d on, or Days.
func (rs *rigState) working(d int) int {
	for d < len(rs.days) && len(rs.days[d].stops) == 0 {
		d++
	}
	return d
}

// standing is where the rig stands on the morning of a day that did not begin
// at home: its last visit before, or where the plan began.
func (st *State) standing(r, d int) int32 {
	rs := &st.rigs[r]
	for d--; d >= 0; d-- {
		if k := len(rs.days[d].stops); k > 0 {
			return rs.days[d].stops[k-1].Visit
		}
	}
	if st.m.Rigs[r].Standing != nil {
		return fromStanding
	}
	return fromHome
}

// tail is the cheapest from day d+1 on when visit v becomes the last of day d
// and the night after it is of kind s2.
func (st *State) tail(r, d, s2 int, v int32) int64 {
	rs := &st.rigs[r]
	if s2 == Home {
		return rs.bwd[d+1][Home]
	}
	next := rs.working(d + 1)
	if next == st.m.Days {
		return none
	}
	var sum int64
	for e := d + 1; e < next; e++ {
		idle := rs.days[e].cost[s2][s2]
		if idle >= none {
			return none
		}
		sum += idle
	}
	return st.tailDay(r, next, s2, v, sum)
}

func (st *State) tailDay(r, d, s int, from int32, sum int64) int64 {
	rs, rig := &st.rigs[r], &st.m.Rigs[r]
	x := rs.days[d]
	first, last := &x.stops[0], &x.stops[len(x.stops)-1]
	if first.opens() || !mayRise(rig, d, s, first) {
		return none
	}
	best := int64(none)
	way := st.m.begin(rig, d, s, from, first)
	start := Seg{Early: rig.Days[d].Start, Late: far}
	for s2 := range states {
		if rs.bwd[d+1][s2] >= none || !st.m.mayRest(rig, d, s2, last) {
			continue
		}
		run := join(start, way.Dur, *x.rest(s2, 0))
		if c := st.m.dayCost(rig, d, s2, run, x.end[s2].Dur, x.spread, last); c < none {
			best = min(best, sum+c+way.Money+x.inner.Money+x.end[s2].Money+rs.bwd[d+1][s2])
		}
	}
	return best
}
