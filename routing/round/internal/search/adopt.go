package search

// Adopt puts a visit, or a part of one, at the end of a rig's day, as close to
// an earlier begin as its windows allow. Whether all of it works together is
// only seen in Adopted, which has to follow.
func (st *State) Adopt(v, r, d int, part, count, begin, work int32) {
	c := st.closest(int32(v), int32(r), int32(d), begin)
	if part > 1 {
		st.adoptPart(v, r, d, part, count, work)
		return
	}
	if c == nil || st.where[v].Parts > 0 {
		return
	}
	least, whole := st.m.Visits[v].MinChunk, st.m.at(c).Work[v]
	if count > 1 && (least == 0 || whole < 2*least) {
		return
	}
	stop := st.m.Whole(int32(v), c)
	if count > 1 {
		stop = st.part(int32(v), c, parts{work, whole - work}, 0)
		stop.Parts = count
	}
	st.put(r, d, len(st.rigs[r].days[d].stops), stop)
	st.placed(st.absentIndex(int32(v)), Where{Rig: int32(r), Day: int32(d), Parts: count})
}

func (st *State) adoptPart(v, r, d int, part, count, work int32) {
	w := st.where[v]
	if w.Parts != count || int(w.Rig) != r || int(w.Day+part-1) != d || !st.m.Visits[v].Able[r][d] {
		return
	}
	p := make(parts, count)
	p[part-1] = work
	c := &Choice{Rig: w.Rig, Day: w.Day}
	st.put(r, d, len(st.rigs[r].days[d].stops), st.part(int32(v), c, p, int(part-1)))
}

// closest is the choice on a day whose stretch is nearest to a begin, the
// cheaper of two as near; nil without any.
func (st *State) closest(v, rig, day, begin int32) *Choice {
	var best *Choice
	for i := range st.m.Visits[v].Where {
		c := &st.m.Visits[v].Where[i]
		if c.Rig != rig || c.Day != day {
			continue
		}
		if best == nil || c.off(begin) < best.off(begin) || c.off(begin) == best.off(begin) && c.Extra < best.Extra {
			best = c
		}
	}
	return best
}

func (c *Choice) off(begin int32) int32 {
	return max(0, c.Early-begin, begin-c.Late)
}

func (st *State) absentIndex(v int32) int {
	for i, a := range st.absent {
		if a == v {
			return i
		}
	}
	return -1
}

// Adopted reckons what was adopted and takes out again what does not work:
// first the days that cannot be done at all, then whole rigs.
func (st *State) Adopted() {
	st.dropBroken()
	st.refreshTouched()
	for r := range st.rigs {
		for d := 0; d < st.m.Days && st.rigs[r].cost >= none; d++ {
			if st.rigs[r].days[d].hopeless() {
				st.clearDay(r, d)
			}
		}
		if st.rigs[r].cost >= none {
			for d := range st.m.Days {
				st.clearDay(r, d)
			}
		}
	}
	st.Keep()
}

// dropBroken removes visits of which a part is missing, stops that cannot be
// in time whatever else, and what breaks the rules that nights and times do
// not see: order of classes, waits and load.
func (st *State) dropBroken() {
	for v := range st.where {
		if w := st.where[v]; w.Parts > 0 && !st.sound(int32(v), w) {
			st.remove(int32(v))
		}
	}
	for r := range st.rigs {
		for d := range st.m.Days {
			st.mark(r, d)
		}
		for d := range st.m.Days {
			st.dropDirty(r, d)
		}
	}
}

func (st *State) sound(v int32, w Where) bool {
	var work int32
	for d := w.Day; d < w.Day+w.Parts; d++ {
		stops := st.rigs[w.Rig].days[d].stops
		i := position(stops, v)
		if len(stops) == 0 || stops[i].Visit != v || stops[i].Early > stops[i].Late {
			return false
		}
		if stops[i].opens() && i > 0 || stops[i].closes() && i < len(stops)-1 {
			return false
		}
		if w.Parts > 1 && stops[i].Work < st.m.Visits[v].MinChunk || int(d) > int(st.m.Visits[v].Last) {
			return false
		}
		work += stops[i].Work
	}
	return work == st.m.group(&st.m.Rigs[w.Rig], int(w.Day)).Work[v]
}

// dropDirty removes the stops of a day that come after dirtier ones, too soon
// after others, or above the load.
func (st *State) dropDirty(r, d int) {
	var load int64
	var before uint8
	for _, s := range append([]Stop(nil), st.rigs[r].days[d].stops...) {
		c := st.m.Visits[s.Visit].Class
		load += s.Load
		if before>>(c+1) != 0 || st.m.waits(before, 0, c) || load > st.m.Rigs[r].Days[d].MaxLoad || s.Parts == 1 && !st.mayWait(r, d, c) {
			st.remove(s.Visit)
			load -= s.Load
			continue
		}
		before |= 1 << c
	}
}

// hopeless tells whether no pattern of nights makes a day work.
func (x *day) hopeless() bool {
	for s := range states {
		for s2 := range states {
			if x.cost[s][s2] < none {
				return false
			}
		}
	}
	return true
}

func (st *State) clearDay(r, d int) {
	for _, s := range append([]Stop(nil), st.rigs[r].days[d].stops...) {
		st.remove(s.Visit)
	}
	st.refreshTouched()
}
