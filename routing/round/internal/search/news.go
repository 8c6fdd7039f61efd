package search

import "slices"

// news are the steps of a search that changed its plan, for others that work
// from the same.
type news struct {
	steps []kept
	days  []newDay
	stops []Stop
}

// kept is one such step: the days it changed, from one of the news to another,
// and how much worse than before the plan might become.
type kept struct {
	from, to int
	allow    float64
}

// newDay is a day that was changed: its stamps before and after, and the stops
// it has now, from one of the news to another.
type newDay struct {
	rig, day int
	was, is  uint64
	from, to int
}

func (n *news) clear() { n.steps, n.days, n.stops = n.steps[:0], n.days[:0], n.stops[:0] }

// add notes what a state changed since the last Keep, if it did.
func (n *news) add(st *State, allow float64) {
	from := len(n.days)
	for i := range st.undo {
		u := &st.undo[i]
		if now := st.rigs[u.rig].days[u.day]; now.stamp != u.old.stamp {
			n.day(u.rig, u.day, u.old.stamp, now)
		}
	}
	if len(n.days) > from {
		n.steps = append(n.steps, kept{from, len(n.days), allow})
	}
}

func (n *news) day(r, d int, was uint64, now *day) {
	from := len(n.stops)
	n.stops = append(n.stops, now.stops...)
	n.days = append(n.days, newDay{r, d, was, now.stamp, from, len(n.stops)})
}

// gather adds the days of other news as they are in a plan.
func (n *news) gather(other *news, st *State) {
	for i := range other.days {
		r, d := other.days[i].rig, other.days[i].day
		if !n.has(r, d) {
			n.day(r, d, other.days[i].was, st.rigs[r].days[d])
		}
	}
}

func (n *news) has(r, d int) bool {
	return slices.ContainsFunc(n.days, func(x newDay) bool { return x.rig == r && x.day == d })
}

// follow takes the steps of another search, but for those on days that look
// different here by now, and those that are too dear or break a rule beside
// what else has changed.
func (s *Search) follow(n *news) {
	for i := range n.steps {
		step := &n.steps[i]
		days := n.days[step.from:step.to]
		if !s.st.same(days) {
			continue
		}
		before := s.st.cost
		if s.st.redo(n, days) {
			s.judge(before, step.allow)
		} else {
			s.st.Undo()
		}
	}
}

// join takes over the days of a plan that may differ from its own.
func (s *Search) join(common *news) {
	differ := slices.Clone(common.days)
	differ = slices.DeleteFunc(differ, func(x newDay) bool { return s.st.rigs[x.rig].days[x.day].stamp == x.is })
	s.st.redo(common, differ)
	s.st.Keep()
	s.news.clear()
}

// same tells whether days still look as they did.
func (st *State) same(days []newDay) bool {
	for i := range days {
		if st.rigs[days[i].rig].days[days[i].day].stamp != days[i].was {
			return false
		}
	}
	return true
}

// redo gives days their new stops. It returns false when a visit has got a
// place elsewhere meanwhile, or a class may not be where it is.
func (st *State) redo(n *news, days []newDay) bool {
	for i := range days {
		st.empty(days[i].rig, days[i].day)
	}
	free := true
	for i := range days {
		free = free && st.setStops(days[i].rig, days[i].day, n.stops[days[i].from:days[i].to])
	}
	st.refreshTouched()
	return free && st.waited(days)
}

// empty takes the stops of a day away.
func (st *State) empty(r, d int) {
	x := st.own(r, d)
	for i := range x.stops {
		if s := &x.stops[i]; s.Part == 1 {
			st.move(s.Visit, Where{})
			st.absent = append(st.absent, s.Visit)
			st.cost += st.m.Visits[s.Visit].Absent
		}
	}
	st.rigs[r].stops -= len(x.stops)
	x.stops, x.fresh, x.kept = x.stops[:0], 0, 0
	st.mark(r, d)
}

// setStops gives an empty day stops, unless one of them is elsewhere.
func (st *State) setStops(r, d int, stops []Stop) bool {
	x := st.own(r, d)
	x.stops = append(x.stops, stops...)
	st.rigs[r].stops += len(stops)
	st.mark(r, d)
	for i := range stops {
		s := &stops[i]
		if s.Part > 1 {
			continue
		}
		if st.where[s.Visit].Parts > 0 {
			return false
		}
		st.placed(st.absentIndex(s.Visit), Where{int32(r), int32(d), s.Parts})
	}
	return true
}

// waited tells whether nothing on some days is kept away by other days.
func (st *State) waited(days []newDay) bool {
	for i := range days {
		r, d := days[i].rig, days[i].day
		for _, s := range st.Stops(r, d) {
			if !st.mayWait(r, d, st.m.Visits[s.Visit].Class) {
				return false
			}
		}
	}
	return true
}
