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
		st.mark(r, d)
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

// refresh reckons a rig's day and the nights.
func (st *State) refresh(r, d int) {
	st.renew(r, d)
	st.sleep(r)
}

// renew reckons a rig's day, and the next working day when it stands elsewhere
// now.
func (st *State) renew(r, d int) {
	x := st.own(r, d)
	if !st.rigs[r].single {
		x.from = st.standing(r, d)
	}
	st.reckon(r, d, x)
	st.stir(r, d)
	if !st.rigs[r].single {
		st.follow(r, d)
	}
	st.mark(r, d)
}

// stir notes that a day was reckoned, for sleep.
func (st *State) stir(r, d int) {
	rs := &st.rigs[r]
	rs.lo, rs.hi = min(rs.lo, d), max(rs.hi, d)
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
			st.reckon(r, e, y)
			st.stir(r, e)
		}
	}
}

// refreshTouched reckons every day changed since the last Keep.
func (st *State) refreshTouched() {
	for i := 0; i < len(st.undo); i++ {
		st.renew(st.undo[i].rig, st.undo[i].day)
	}
	for i := range st.saved {
		st.sleep(st.saved[i].rig)
	}
}

// mark notes anew which classes a rig visits on a day.
func (st *State) mark(r, d int) {
	if !st.m.HasWait {
		return
	}
	rs := &st.rigs[r]
	bit := uint64(1) << (d & 63)
	for c := range rs.present {
		rs.present[c][d>>6] &^= bit
	}
	for i := range rs.days[d].stops {
		c := st.m.Visits[rs.days[d].stops[i].Visit].Class
		rs.present[c][d>>6] |= bit
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
		before, after := st.m.Wait[other][c], st.m.Wait[c][other]
		if before > 1 && anyBit(rs.present[other], max(0, d-before+1), d) || after > 1 && anyBit(rs.present[other], d+1, min(st.m.Days, d+after)) {
			return false
		}
	}
	return true
}

// anyBit tells whether any of the bits from one up to another is set.
func anyBit(bits []uint64, from, to int) bool {
	for word := from >> 6; word<<6 < to; word++ {
		lo, hi := max(from-word<<6, 0), min(to-word<<6, 64)
		if lo < hi && bits[word]>>lo<<(64-hi+lo) != 0 {
			return true
		}
	}
	return false
}
