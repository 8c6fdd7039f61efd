package search

// remove takes a visit out of the plan, all parts of it. Touched days are
// reckoned when settled by refresh.
func (st *State) remove(v int32) {
	w := st.where[v]
	if w.Parts == 0 {
		return
	}
	r := int(w.Rig)
	for d := int(w.Day); d < int(w.Day+w.Parts); d++ {
		x := st.own(r, d)
		for i := range x.stops {
			if x.stops[i].Visit == v {
				x.touch(i, len(x.stops))
				x.stops = append(x.stops[:i], x.stops[i+1:]...)
				break
			}
		}
		st.rigs[r].stops--
	}
	st.move(v, Where{})
	st.absent = append(st.absent, v)
	st.cost += st.m.Visits[v].Absent
}

func (st *State) move(v int32, to Where) {
	st.gone = append(st.gone, savedWhere{v, st.where[v]})
	st.where[v] = to
}

// put adds a stop to a day at a position.
func (st *State) put(r, d, pos int, stop Stop) {
	x := st.own(r, d)
	x.stops = append(x.stops, Stop{})
	copy(x.stops[pos+1:], x.stops[pos:])
	x.stops[pos] = stop
	x.touch(pos, len(x.stops))
	st.rigs[r].stops++
}

// placed notes that an absent visit, the i-th left out, has its place.
func (st *State) placed(i int, at Where) {
	v := st.absent[i]
	st.absent[i] = st.absent[len(st.absent)-1]
	st.absent = st.absent[:len(st.absent)-1]
	st.cost -= st.m.Visits[v].Absent
	st.move(v, at)
}

// refresh reckons a rig's day, the next working day when it stands elsewhere
// now, and the nights.
func (st *State) refresh(r, d int) {
	x := st.own(r, d)
	if !st.rigs[r].single {
		x.from = st.standing(r, d)
	}
	st.stamp(r, d)
	st.reckon(r, d, x)
	if !st.rigs[r].single {
		st.follow(r, d)
	}
	st.sleep(r)
	if st.m.HasWait {
		st.markAll(r)
	}
}

// follow tells the days after d, up to the next with stops, where the rig
// stands now. Days without stops only care about where it stood at first.
func (st *State) follow(r, d int) {
	rs := &st.rigs[r]
	next := rs.working(d + 1)
	care := st.m.Rigs[r].Standing != nil
	for e := d + 1; e <= next && e < st.m.Days; e++ {
		if e < next && !care {
			continue
		}
		if from := st.standing(r, e); rs.days[e].from != from {
			y := st.own(r, e)
			y.from = from
			st.stamp(r, e)
			st.reckon(r, e, y)
		}
	}
}

// refreshTouched reckons every day changed since the last Keep.
func (st *State) refreshTouched() {
	for i := 0; i < len(st.undo); i++ {
		st.refresh(st.undo[i].rig, st.undo[i].day)
	}
}

// markAll notes anew on which days a rig visits which class.
func (st *State) markAll(r int) {
	rs := &st.rigs[r]
	for c := range rs.present {
		clear(rs.present[c])
	}
	for d, x := range rs.days {
		for i := range x.stops {
			c := st.m.Visits[x.stops[i].Visit].Class
			rs.present[c][d>>6] |= 1 << (d & 63)
		}
	}
}

// mayWait tells whether a visit of class c on day d keeps the waits to the
// other days of a rig.
func (st *State) mayWait(r, d int, c uint8) bool {
	if !st.m.HasWait {
		return true
	}
	rs := &st.rigs[r]
	for other := range rs.present {
		for e := max(0, d-st.m.Wait[other][c]+1); e < d; e++ {
			if rs.present[other][e>>6]>>(e&63)&1 == 1 {
				return false
			}
		}
		for e := min(st.m.Days, d+st.m.Wait[c][other]) - 1; e > d; e-- {
			if rs.present[other][e>>6]>>(e&63)&1 == 1 {
				return false
			}
		}
	}
	return true
}
