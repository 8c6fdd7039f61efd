package search

// insert gives the i-th visit left out the place that was found for it.
func (st *State) insert(i int, at spot) {
	v := st.absent[i]
	c := st.choice(v, at.rig, at.day)
	o := &c.Options[at.option]
	if at.chunks > 0 {
		st.insertParts(i, v, c, o, at)
		return
	}
	st.put(int(at.rig), int(at.day), int(at.pos), st.stop(v, c, o))
	st.placed(i, Where{Rig: at.rig, Day: at.day, Parts: 1})
	st.refresh(int(at.rig), int(at.day))
}

func (st *State) insertParts(i int, v int32, c *Choice, o *Option, at spot) {
	p, _ := st.splitting(v, c, at.chunks-1)
	r, d := int(at.rig), int(at.day)
	for n := range p {
		pos := 0
		if n == 0 {
			pos = len(st.rigs[r].days[d].stops)
		}
		st.put(r, d+n, pos, st.part(v, c, o, p, n))
	}
	st.placed(i, Where{Rig: at.rig, Day: at.day, Parts: int32(len(p))})
	for n := range p {
		st.refresh(r, d+n)
	}
}

// choice finds a visit's choice for a rig and day; it has to exist.
func (st *State) choice(v, rig, day int32) *Choice {
	where := st.m.Visits[v].Where
	lo, hi := 0, len(where)
	for lo < hi {
		mid := (lo + hi) / 2
		if c := &where[mid]; c.Rig < rig || c.Rig == rig && c.Day < day {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return &where[lo]
}
