package search

// Snapshot is a plan at rest.
type Snapshot struct {
	Cost int64
	days []placedDay
}

type placedDay struct {
	rig, day int
	stops    []Stop
}

// Snapshot copies the plan.
func (st *State) Snapshot() Snapshot {
	snap := Snapshot{Cost: st.cost}
	for r := range st.rigs {
		if st.rigs[r].stops == 0 {
			continue
		}
		for d, x := range st.rigs[r].days {
			if len(x.stops) > 0 {
				snap.days = append(snap.days, placedDay{r, d, append([]Stop(nil), x.stops...)})
			}
		}
	}
	return snap
}

// Load gives a plan in which every visit is left out the stops of a snapshot.
func (st *State) Load(snap Snapshot) {
	for _, p := range snap.days {
		for pos, s := range p.stops {
			st.put(p.rig, p.day, pos, s)
			if s.Part == 1 {
				st.where[s.Visit] = Where{int32(p.rig), int32(p.day), s.Parts}
			}
		}
	}
	st.refreshTouched()
	st.cost, st.absent = 0, st.absent[:0]
	for r := range st.rigs {
		st.cost += st.rigs[r].cost
	}
	st.recount()
	st.Keep()
}

// Placed is the number of visits that have a place.
func (snap Snapshot) Placed() int {
	n := 0
	for _, p := range snap.days {
		for i := range p.stops {
			if p.stops[i].Part == 1 {
				n++
			}
		}
	}
	return n
}

// Stops are the stops of a rig's day.
func (snap Snapshot) Stops(rig, d int) []Stop {
	for _, p := range snap.days {
		if p.rig == rig && p.day == d {
			return p.stops
		}
	}
	return nil
}

// Add puts a day into a snapshot that is being made.
func (snap *Snapshot) Add(rig, d int, stops []Stop) {
	if len(stops) > 0 {
		snap.days = append(snap.days, placedDay{rig, d, stops})
	}
}
