package search

// insert gives the i-th visit left out the place that was found for it.
func (st *State) insert(i int, at spot) {
	v := st.absent[i]
	c := &st.m.Visits[v].Where[at.choice]
	if at.chunks > 0 {
		st.insertParts(i, v, c, at.chunks-1)
		return
	}
	st.put(int(c.Rig), int(c.Day), int(at.pos), st.m.Whole(v, c))
	st.placed(i, Where{Rig: c.Rig, Day: c.Day, Parts: 1})
	st.refresh(int(c.Rig), int(c.Day))
}

func (st *State) insertParts(i int, v int32, c *Choice, way int32) {
	p := st.splitting(v, c, way)
	r, d := int(c.Rig), int(c.Day)
	for n := range p {
		pos := 0
		if n == 0 {
			pos = len(st.rigs[r].days[d].stops)
		}
		st.put(r, d+n, pos, st.part(v, c, p, n))
	}
	st.placed(i, Where{Rig: c.Rig, Day: c.Day, Parts: int32(len(p))})
	for n := range p {
		st.refresh(r, d+n)
	}
}
