package search

// Found is a place where a visit could go: its choice, what that adds to the
// plan, over how many days it is spread, and when work begins there.
type Found struct {
	Rig, Day, Parts int
	Begin           int32
	Adds            int64
}

// Variant is a copy of a model whose visits, waits and hours can be changed
// without changing the original. Tables are shared.
func (m *Model) Variant() *Model {
	v := *m
	v.Visits = append([]Visit(nil), m.Visits...)
	v.Rigs = append([]Rig(nil), m.Rigs...)
	for r := range v.Rigs {
		v.Rigs[r].Days = append([]RigDay(nil), m.Rigs[r].Days...)
	}
	v.Roaming = true
	return &v
}

// Probe lists, for every rig and day, the cheapest place where an absent visit
// could go if it were as given. The plan stays as it is.
func (st *State) Probe(v int32, as Visit) []Found {
	was := st.m.Visits[v]
	st.m.Visits[v] = as
	defer func() { st.m.Visits[v] = was }()
	var out []Found
	for i := range as.Where {
		c := &as.Where[i]
		if !st.mayWait(int(c.Rig), int(c.Day), as.Class) {
			continue
		}
		best := spot{delta: none, choice: int32(i)}
		t := st.trial(v, c.Rig, &blinker{})
		t.choose(i)
		t.search(st.spread(v, c), &best)
		if best.delta >= none {
			continue
		}
		found := st.visit(v, int32(i), best)
		if k := len(out); k > 0 && out[k-1].Rig == found.Rig && out[k-1].Day == found.Day {
			if found.Adds < out[k-1].Adds {
				out[k-1] = found
			}
			continue
		}
		out = append(out, found)
	}
	return out
}

// visit goes to a spot, looks at the clock, and takes it back.
func (st *State) visit(v, choice int32, at spot) Found {
	at.choice = choice
	st.insert(st.absentIndex(v), at)
	w := st.where[v]
	out := Found{Rig: int(w.Rig), Day: int(w.Day), Parts: int(w.Parts), Adds: at.delta}
	out.Begin = st.Begin(out.Rig, out.Day, v)
	st.Undo()
	return out
}

// Begins are the times at which the work of each stop of a day begins.
func (st *State) Begins(r, d int) []int32 {
	nights := st.Nights(r)
	x, rig := st.rigs[r].days[d], &st.m.Rigs[r]
	g := st.m.group(rig, d)
	run := st.Run(r, d, nights[d], nights[d+1])
	now := run.Early + st.m.begin(rig, d, nights[d], x.from, &x.stops[0]).Dur
	var out []int32
	for i := range x.stops {
		s := &x.stops[i]
		if i > 0 {
			now += g.Edge(x.stops[i-1].Visit, s.Visit).Dur
		}
		begin := max(now, s.Early)
		out = append(out, begin)
		now = begin + s.Work
	}
	return out
}

// TakeOut removes a visit from the plan for good.
func (st *State) TakeOut(v int) {
	st.remove(int32(v))
	st.refreshTouched()
	st.Keep()
}

// Begin is when the work of a visit begins that is on a rig's day.
func (st *State) Begin(r, d int, v int32) int32 {
	return st.Begins(r, d)[position(st.rigs[r].days[d].stops, v)]
}
