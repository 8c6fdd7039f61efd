package search

// sign is all that the price of one more stop on a day depends on, for a rig
// that may stay out: the day itself, how much dearer one kind of night is than
// another before and after it, and what comes after a night out. A change on
// another day mostly leaves it as it is, and with it what was found here.
type sign struct {
	day, next     uint64 // versions
	from          int32
	before, after [states]int64 // above the cheapest
	beyond        [states]int64 // after the next day with stops
}

// resign gives the days of a rig new marks where their signs have changed.
func (st *State) resign(r int) {
	rs := &st.rigs[r]
	from, next := st.standing(r, 0), st.m.Days
	for d := st.m.Days - 1; d >= 0; d-- {
		s := &rs.fresh[d]
		s.next, s.beyond = 0, [states]int64{}
		if next < st.m.Days {
			s.next = rs.days[next].version
			s.beyond = above(&rs.bwd[next+1])
		}
		if len(rs.days[d].stops) > 0 {
			next = d
		}
	}
	for d, x := range rs.days {
		s := &rs.fresh[d]
		s.day, s.from = x.version, from
		s.before, s.after = above(&rs.fwd[d]), above(&rs.bwd[d+1])
		if *s != rs.signs[d] {
			rs.signs[d] = *s
			st.counter++
			rs.marks[d] = st.counter
		}
		if k := len(x.stops); k > 0 {
			from = x.stops[k-1].Visit
		}
	}
}

func above(costs *[states]int64) [states]int64 {
	least := min(costs[0], costs[1], costs[2])
	out := *costs
	for i := range out {
		if out[i] < none {
			out[i] -= least
		}
	}
	return out
}

// marksFrom is one mark for a day and those a split visit could reach from it.
func (rs *rigState) marksFrom(d int) uint64 {
	sum := uint64(14695981039346656037)
	for e := d; e < min(d+scratchDays+1, len(rs.days)); e++ {
		mark := rs.days[e].version
		if !rs.single {
			mark = rs.marks[e]
		}
		sum = mix(sum, mark)
	}
	for c := range rs.present { // waits reach further than the visit itself
		for _, word := range rs.present[c] {
			sum = mix(sum, word)
		}
	}
	return sum
}

func mix(sum, word uint64) uint64 {
	sum = (sum ^ word) * 0x9e3779b97f4a7c15
	return sum ^ sum>>29
}
