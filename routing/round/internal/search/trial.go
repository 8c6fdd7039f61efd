package search

// trial is one visit tried on the days of one rig.
type trial struct {
	st    *State
	blink *blinker
	v, r  int32
	vis   *Visit
	seen  []seen // by choice
	rig   *Rig
	g     *Group // of the day of the choice
	rs    *rigState
	whole Stop // done in one go, before a choice is made

	in, out int32 // the shortest drives to and from it
	need    gaps

	// The choice that is tried, and its day.
	c    *Choice
	d    int
	x    *day
	stop Stop

	bed   [states]Edge  // from the stop to bed
	after [states]int64 // the rest of the plan when the stop is the last of its day
	ended bool          // bed and after are filled in
}

// trial begins to try a visit on a rig, and ends the trial before.
func (st *State) trial(v, r int32, blink *blinker) *trial {
	t := &st.trying
	t.st, t.blink, t.v, t.r = st, blink, v, r
	t.vis, t.rig, t.rs = &st.m.Visits[v], &st.m.Rigs[r], &st.rigs[r]
	t.g = t.rig.Quickest
	t.whole = st.m.anywhere(v, t.g)
	t.in, t.out = t.g.in[v], t.g.out[v]
	t.need = t.needs()
	return t
}

// gaps are the longest times for one more stop of a day, drives included:
// first, between others, last.
type gaps [3]int32

// needs is how long a visit done in one go takes at the least in each gap.
func (t *trial) needs() gaps {
	if t.vis.splits() {
		return gaps{} // what is spread over days may fit anywhere
	}
	work, in, out := t.whole.Work, t.in, t.out
	n := gaps{work + out, work + in + out, work + in}
	if t.rig.Standing == nil {
		n[0] += in
	}
	if !t.vis.MayStay {
		n[2] += out
	}
	return n
}

// fit tells whether that might be in time in any gap.
func (n *gaps) fit(x *gaps) bool { return n[0] <= x[0] || n[1] <= x[1] || n[2] <= x[2] }

// consider looks at one choice and tells whether it is better than the best so
// far, which it becomes then.
func (t *trial) consider(i int, best *spot) bool {
	k := t.recall(i)
	if k.least >= best.delta || !t.st.mayWait(int(t.r), int(k.day), t.vis.Class) {
		return false
	}
	found := spot{delta: k.least, pos: int32(k.pos)}
	if k.pos < 0 {
		found = spot{delta: best.delta}
		t.choose(i)
		t.find(k, t.st.spreads(t.v, i), &found)
	}
	if found.delta >= best.delta {
		return false
	}
	found.choice = int32(i)
	*best = found
	return true
}

// choose makes a choice the one that is tried.
func (t *trial) choose(i int) {
	t.c = &t.vis.Where[i]
	t.d = int(t.c.Day)
	t.with(t.st.m.group(t.rig, t.d))
	t.x, t.stop, t.ended = t.rs.days[t.d], t.whole, false
	t.st.m.choose(&t.stop, t.c)
}

// with tries the visit with the times of a group.
func (t *trial) with(g *Group) {
	if g != t.g {
		t.g, t.whole = g, t.st.m.anywhere(t.v, g)
	}
}

// find looks for a spot better than best and notes what came of it.
func (t *trial) find(k *seen, ways []spread, best *spot) {
	limit, ever := best.delta, false
	k.least, ever = t.search(ways, best)
	if best.chunks == 0 && best.delta == k.least && k.least < limit {
		k.pos = int16(best.pos)
	}
	if !ever {
		k.never = t.rs.views[t.d].alone
	}
}

// search looks for the cheapest spot at the choice that is better than best.
// It returns what the visit adds there at the least, and whether it could be
// in time with other nights.
func (t *trial) search(ways []spread, best *spot) (least int64, ever bool) {
	least = none
	switch {
	case t.stop.Early > t.stop.Late || !t.carries():
	case t.rs.single:
		least, ever = t.searchHome(best), true
	default:
		least, ever = t.searchNights(best)
	}
	return min(least, t.searchSplit(ways, best)), ever || len(ways) > 0
}

func (t *trial) carries() bool {
	return !t.st.m.HasLoad || t.x.load+t.stop.Load <= t.rig.Days[t.d].MaxLoad
}
