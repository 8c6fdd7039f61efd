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

// mark notes anew which classes a rig visits on a day, and from which days that
// keeps others.
func (st *State) mark(r, d int) {
	if !st.m.HasWait {
		return
	}
	rs := &st.rigs[r]
	var now uint8
	for i := range rs.days[d].stops {
		now |= 1 << st.m.Visits[rs.days[d].stops[i].Visit].Class
	}
	was := rs.classes[d]
	rs.classes[d] = now
	for c := range uint8(Classes) {
		if (now^was)>>c&1 == 1 {
			st.bar(rs, d, c, int16(now>>c&1)*2-1)
		}
	}
}

// bar counts, for the days about a class, how often it keeps each class away.
func (st *State) bar(rs *rigState, d int, c uint8, by int16) {
	for other := range rs.barred {
		for e := d + 1; e < min(d+st.m.Wait[c][other], st.m.Days); e++ {
			rs.barred[other][e] += by
		}
		for e := d - 1; e > max(d-st.m.Wait[other][c], -1); e-- {
			rs.barred[other][e] += by
		}
	}
}

// mayWait tells whether a visit of class c on day d keeps the waits to the
// other days of a rig.
func (st *State) mayWait(r, d int, c uint8) bool { return st.rigs[r].barred[c][d] == 0 }
