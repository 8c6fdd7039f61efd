package search

import "math/bits"

// seen is what came of trying a visit at a choice. It holds for as long as the
// plan looks the same from there.
type seen struct {
	view  uint64
	least int64  // what the visit adds at the least
	never uint64 // on a day that looks like this it is not in time, whatever the nights
	day   int16  // of the choice, beside the rest of what is looked up first
	pos   int16  // where it adds just that; negative when that is not known
}

// unsure stands for what a visit adds when nothing is known about it.
const unsure = -none

// memory is what is known of a visit, by choice.
func (st *State) memory(v int32) []seen {
	if st.seen[v] == nil {
		where := st.m.Visits[v].Where
		st.seen[v] = make([]seen, len(where))
		for i := range where {
			st.seen[v][i] = seen{least: unsure, day: int16(where[i].Day), pos: -1}
		}
	}
	return st.seen[v]
}

// recall is what is known at a choice as the plan looks now.
func (t *trial) recall(i int) *seen {
	k := &t.seen[i]
	if view := t.view(k.day); k.view != view {
		k.view, k.least, k.pos = view, unsure, -1
		if k.never > 0 && k.never == t.rs.views[k.day].alone {
			k.least = none
		}
	}
	return k
}

// views are what a rig's day looks like to a visit that is tried on it: the
// day itself, and what the nights before and after it have to do with others.
type views struct {
	alone  uint64 // whatever the nights
	leaves uint64 // to a visit at which the rig does not stay
	stays  uint64 // to one at which it may, so that the next day begins there
}

// chart looks anew at the days of a rig that see a change: those from one to
// another, back to the working day before, which they follow, and on to the
// working day after those that changed, which begins where they end.
func (st *State) chart(r, from, to int) {
	rs := &st.rigs[r]
	to = min(max(to, rs.working(rs.hi+1)), len(rs.days)-1)
	for from--; from > 0 && len(rs.days[from].stops) == 0; from-- {
	}
	from = max(from, 0)
	st.chartMornings(r, from, to)
	rest := rs.rest(rs.working(to + 1))
	for d := to; d >= from; d-- {
		v, after := &rs.views[d], rs.shape(&rs.bwd[d+1])
		v.leaves = mix(v.leaves, after)
		v.stays = mix(v.leaves, rest)
		if len(rs.days[d].stops) > 0 {
			rest = rs.rest(d)
		}
	}
}

// rest is what a working day and what comes after it look like.
func (rs *rigState) rest(d int) uint64 {
	if d == len(rs.days) {
		return 0
	}
	return mix(mix(rs.days[d].stamp, rs.shape(&rs.bwd[d+1])), uint64(d))
}

// chartMornings looks at the stops of each day, where the rig stands that did
// not sleep at home, and the nights before.
func (st *State) chartMornings(r, from, to int) {
	rs := &st.rigs[r]
	at := st.standing(r, from)
	for d := from; d <= to; d++ {
		x, v, before := rs.days[d], &rs.views[d], &rs.fwd[d]
		v.alone = x.stamp
		if before[Solo] < none || before[Lodge] < none {
			v.alone = mix(v.alone, uint64(at+2))
		}
		v.leaves = mix(v.alone, rs.shape(before))
		if k := len(x.stops); k > 0 {
			at = x.stops[k-1].Visit
		}
	}
}

// shape tells nights apart by what one kind costs more than another; by all they
// cost while the plan of the rig is broken, since what a visit adds that mends
// it has nothing to be compared with.
func (rs *rigState) shape(nights *[states]int64) uint64 {
	if rs.cost >= none {
		return mix(mix(mix(1, uint64(nights[Home])), uint64(nights[Solo])), uint64(nights[Lodge]))
	}
	if nights[Solo] >= none && nights[Lodge] >= none {
		return uint64(min(nights[Home]/none, 1)) // impossible or not
	}
	least := min(nights[Home], nights[Solo], nights[Lodge])
	var h uint64
	for _, cost := range nights {
		if cost < none {
			cost -= least
		}
		h = mix(h, uint64(cost))
	}
	return h
}

// mix is one step of a hash. What was mixed before is turned, so that two hashes
// of much the same numbers do not cancel each other.
func mix(h, x uint64) uint64 {
	h = (bits.RotateLeft64(h, 23) ^ x) * 0x9e3779b97f4a7c15
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

// view is what a day looks like to the visit.
func (t *trial) view(d int16) uint64 {
	switch {
	case t.rs.single:
		return t.rs.days[d].stamp
	case t.vis.splits():
		return t.viewSplit(int(d))
	case t.vis.MayStay:
		return t.rs.views[d].stays
	}
	return t.rs.views[d].leaves
}

// viewSplit is what the days look like over which a visit may be spread: they
// are empty but for the first and the last, as a rig's rest of days is seen.
func (t *trial) viewSplit(first int) uint64 {
	h := t.rs.views[first].stays
	if !t.st.m.HasWait {
		return h
	}
	for d := first + 1; d <= int(t.vis.Last) && d < first+scratchDays; d++ {
		h *= 2
		if t.st.mayWait(int(t.r), d, t.vis.Class) {
			h++
		}
	}
	return mix(h, 0)
}
