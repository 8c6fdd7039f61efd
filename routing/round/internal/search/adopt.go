package search

// Adopt puts a visit, or a part of one, at the end of a rig's day, as close to
// an earlier begin as its windows allow. Whether all of it works together is
// only seen in Adopted, which has to follow.
func (st *State) Adopt(v, r, d int, part, count, begin, work int32) {
	c := st.choiceOr(int32(v), int32(r), int32(d))
	g := st.m.Groups[st.m.Rigs[r].Group]
	if part > 1 {
		st.adoptPart(v, r, d, part, count, work)
		return
	}
	least := st.m.Visits[v].MinChunk
	if c == nil || st.where[v].Parts > 0 || count > 1 && (least == 0 || g.Work[v] < 2*least) {
		return
	}
	o := c.closest(begin)
	stop := st.stop(int32(v), c, o)
	if count > 1 {
		stop = st.part(int32(v), c, o, parts{work, g.Work[v] - work}, 0)
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
	st.put(r, d, len(st.rigs[r].days[d].stops), st.part(int32(v), c, nil, p, int(part-1)))
}

// closest is the option whose stretch is nearest to a begin, the cheaper of
// two as near.
func (c *Choice) closest(begin int32) *Option {
	best := &c.Options[0]
	for i := range c.Options[1:] {
		o := &c.Options[i+1]
		if a, b := o.off(begin), best.off(begin); a < b || a == b && o.Extra < best.Extra {
			best = o
		}
	}
	return best
}

func (o *Option) off(begin int32) int32 {
	return max(0, o.Early-begin, begin-o.Late)
}

func (st *State) absentIndex(v int32) int {
	for i, a := range st.absent {
		if a == v {
			return i
		}
	}
	return -1
}

// choiceOr is choice for pairs that may not exist.
func (st *State) choiceOr(v, rig, day int32) *Choice {
	for i := range st.m.Visits[v].Where {
		if c := &st.m.Visits[v].Where[i]; c.Rig == rig && c.Day == day {
			return c
		}
	}
	return nil
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
		st.markAll(r)
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
	return work == st.m.Groups[st.m.Rigs[w.Rig].Group].Work[v]
}

// dropDirty removes the stops of a day that come after dirtier ones, too soon
// after others, or above the load.
func (st *State) dropDirty(r, d int) {
	var load int64
	var before uint8
	for _, s := range append([]Stop(nil), st.rigs[r].days[d].stops...) {
		c := st.m.Visits[s.Visit].Class
		load += s.Load
		if before>>(c+1) != 0 || st.m.waits(before, c) || load > st.m.Rigs[r].Days[d].MaxLoad || s.Parts == 1 && !st.mayWait(r, d, c) {
			st.remove(s.Visit)
			st.markAll(r)
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
