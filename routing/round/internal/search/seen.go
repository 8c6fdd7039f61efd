package search

// seen is what came of trying a visit at a choice. It holds for as long as the
// plan looks the same from there.
type seen struct {
	view  uint64
	least int64 // what the visit adds at the least
	pos   int32
	exact bool     // it adds just that, at pos
	ways  []spread // over days; nil when not yet listed
}

// unsure stands for what a visit adds when nothing is known about it.
const unsure = -none

// recall is what is known of a visit at a choice as the plan looks now.
func (st *State) recall(v int32, i int) *seen {
	if st.seen[v] == nil {
		st.seen[v] = make([]seen, len(st.m.Visits[v].Where))
	}
	k, c := &st.seen[v][i], &st.m.Visits[v].Where[i]
	if k.ways == nil {
		k.ways = st.spreads(v, c)
	}
	if view := st.view(v, c); k.view != view {
		k.view, k.least, k.exact = view, unsure, false
	}
	return k
}

// views are what a rig's day looks like to a visit that is tried on it: the
// day itself, and what the nights before and after it have to do with others.
type views struct {
	leaves uint64 // to a visit at which the rig does not stay
	stays  uint64 // to one at which it may, so that the next day begins there
}

// chart looks at the days of a rig anew.
func (st *State) chart(r int) {
	rs := &st.rigs[r]
	for d, x := range rs.days {
		rs.views[d].leaves = mix(x.stamp, shape(&rs.fwd[d]))
	}
	st.chartMornings(r)
	rest := uint64(len(rs.days))
	for d := len(rs.days) - 1; d >= 0; d-- {
		x, v := rs.days[d], &rs.views[d]
		after := shape(&rs.bwd[d+1])
		v.leaves = mix(v.leaves, after)
		v.stays = mix(v.leaves, rest)
		if len(x.stops) > 0 {
			rest = mix(x.stamp, after)
		}
		rest = mix(rest, uint64(d))
	}
}

// chartMornings adds where a rig stands that did not sleep at home.
func (st *State) chartMornings(r int) {
	rs := &st.rigs[r]
	from := st.standing(r, 0)
	for d, x := range rs.days {
		if rs.fwd[d][Solo] < none || rs.fwd[d][Lodge] < none {
			rs.views[d].leaves = mix(rs.views[d].leaves, uint64(from+2))
		}
		if k := len(x.stops); k > 0 {
			from = x.stops[k-1].Visit
		}
	}
}

// shape tells nights apart by what one kind costs more than another.
func shape(nights *[states]int64) uint64 {
	if nights[Solo] >= none && nights[Lodge] >= none {
		return uint64(min(nights[Home]/none, 1)) // impossible or not
	}
	least := min(nights[Home], nights[Solo], nights[Lodge])
	var h uint64
	for _, cost := range nights {
		h = mix(h, uint64(min(cost, none)-least))
	}
	return h
}

// mix is one step of a hash.
func mix(h, x uint64) uint64 {
	h = (h ^ x) * 0x9e3779b97f4a7c15
	return h ^ h>>29
}

// stamp tells the stops of a day from others.
func stamp(stops []Stop) uint64 {
	h := uint64(len(stops)) + 1
	for i := range stops {
		s := &stops[i]
		h = mix(h, uint64(s.Visit)<<32|uint64(s.Part)<<16|uint64(s.Parts))
		h = mix(h, uint64(s.Work)<<32|uint64(uint32(s.Early)))
		h = mix(h, uint64(s.Extra)<<32^uint64(uint32(s.Late)))
	}
	return h
}

// view is what a choice looks like to a visit.
func (st *State) view(v int32, c *Choice) uint64 {
	rs, vis := &st.rigs[c.Rig], &st.m.Visits[v]
	switch {
	case rs.single:
		return rs.days[c.Day].stamp
	case vis.MinChunk > 0:
		return st.viewSplit(v, c)
	case vis.MayStay:
		return rs.views[c.Day].stays
	}
	return rs.views[c.Day].leaves
}

// viewSplit is what the days look like over which a visit may be spread: they
// are empty but for the first and the last, as a rig's rest of days is seen.
func (st *State) viewSplit(v int32, c *Choice) uint64 {
	vis, h := &st.m.Visits[v], st.rigs[c.Rig].views[c.Day].stays
	if !st.m.HasWait {
		return h
	}
	for d := int(c.Day) + 1; d <= int(vis.Last) && d < int(c.Day)+scratchDays; d++ {
		h *= 2
		if st.mayWait(int(c.Rig), d, vis.Class) {
			h++
		}
	}
	return mix(h, 0)
}
