package search

// wish is a visit that could get a place, and what it would like best.
type wish struct {
	visit   int32
	weight  float64 // what it would lose counts this much
	first   spot
	second  int64    // what it adds on any other day, of any rig
	options []option // by rig
}

// option is the best that a rig has for a visit.
type option struct {
	first  spot
	second int64 // what it adds on any other day of the rig
	limit  int64 // what adds as much or more was not looked into; unsure when nothing is known
}

// settle finds out what is not known of a wish and matters.
func (b *builder) settle(w *wish) {
	for doubt := true; doubt; doubt = w.doubt() {
		w.first, w.second = spot{delta: none}, none
		for r := range w.options {
			w.add(&w.options[r])
		}
		for r := range w.options {
			if o := &w.options[r]; o.limit == unsure {
				*o = b.st.look(w.visit, int32(r), w.second, &b.blink)
				w.add(o)
			}
		}
	}
}

// add takes an option into account, if it is known.
func (w *wish) add(o *option) {
	switch {
	case o.limit == unsure:
	case o.first.delta < w.first.delta:
		w.first, w.second = o.first, min(w.first.delta, o.second)
	default:
		w.second = min(w.second, o.first.delta)
	}
}

// doubt forgets the options that were not looked into far enough, and tells
// whether there are any.
func (w *wish) doubt() bool {
	doubt := false
	for r := range w.options {
		if o := &w.options[r]; o.limit < w.second {
			o.limit, doubt = unsure, true
		}
	}
	return doubt
}

// look is the best that a rig has for a visit and that adds less than limit.
// Each choice may be overlooked now and then.
func (st *State) look(v, r int32, limit int64, blink *blinker) option {
	o := option{first: spot{delta: none}, second: none, limit: limit}
	if st.doubled(r) {
		o.limit = none
		return o
	}
	st.looks++
	t := st.trial(v, r, blink)
	t.seen = st.memory(v)
	from, to := int(st.from[v][r]), int(st.from[v][r+1])
	for i := from; i < to; i++ {
		if !t.need.fit(&t.rs.days[t.seen[i].day].gaps) || blink.skip() {
			continue
		}
		at := spot{delta: min(limit, o.second)}
		if t.consider(i, &at) {
			o.add(at, t.seen)
		}
	}
	return o
}

// add takes a spot into account that is better than the second.
func (o *option) add(at spot, seen []seen) {
	same := o.first.delta < none && seen[at.choice].day == seen[o.first.choice].day
	switch {
	case at.delta < o.first.delta && same:
		o.first = at
	case at.delta < o.first.delta:
		o.first, o.second = at, o.first.delta
	case !same:
		o.second = at.delta
	}
}

// doubled tells whether a rig without stops has a twin without: then the twin
// will do.
func (st *State) doubled(r int32) bool {
	twin := st.m.Rigs[r].Twin
	return st.rigs[r].stops == 0 && twin >= 0 && st.rigs[twin].stops == 0
}
