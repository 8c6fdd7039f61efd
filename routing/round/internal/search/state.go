package search

// State is a plan under change. Changes since the last Keep can be taken back.
type State struct {
	m       *Model
	rigs    []rigState
	where   []Where
	absent  []int32 // visits without a place
	cost    int64
	epoch   uint64 // days of this epoch are ours to change
	undo    []undone
	saved   []savedRig
	gone    []savedWhere
	pool    []*day
	looks   int          // at rigs, to put visits back
	from    [][]int32    // by visit and rig, the first of its choices
	seen    [][]seen     // by visit and choice
	ways    [][][]spread // by visit and choice
	trying  trial
	scratch [scratchDays]day
}

// Where is where a visit is: its first day, and over how many; Parts 0 = left
// out.
type Where struct {
	Rig, Day, Parts int32
}

type rigState struct {
	days    []*day
	fwd     [][states]int64 // cheapest until the night before a day
	bwd     [][states]int64 // cheapest from a day on, after a night of that kind
	views   []views
	cost    int64
	stops   int
	lo, hi  int              // days reckoned since nights were last chosen
	single  bool             // never stays out: days do not touch each other
	classes []uint8          // visited on each day, as bits
	barred  [Classes][]int16 // by day, how many classes of other days keep one away
}

type undone struct {
	rig, day int
	old      *day
}

type savedRig struct {
	rig      int
	cost     int64
	stops    int
	fwd, bwd [][states]int64
	views    []views
}

type savedWhere struct {
	visit int32
	was   Where
}

// NewState is the plan with every visit left out.
func NewState(m *Model) *State {
	st := &State{m: m, where: make([]Where, len(m.Visits)), epoch: 1}
	st.from = m.choices()
	st.ways = make([][][]spread, len(m.Visits))
	st.seen = make([][]seen, len(m.Visits))
	for v := range m.Visits {
		st.absent = append(st.absent, int32(v))
		st.cost += m.Visits[v].Absent
	}
	st.rigs = make([]rigState, len(m.Rigs))
	roaming := m.roaming()
	for r := range m.Rigs {
		st.openRig(r, roaming[r])
	}
	st.Keep()
	return st
}

// choices tells where the choices of each rig begin among those of a visit.
func (m *Model) choices() [][]int32 {
	out := make([][]int32, len(m.Visits))
	for v := range m.Visits {
		where := m.Visits[v].Where
		out[v] = make([]int32, len(m.Rigs)+1)
		for i := range where {
			out[v][where[i].Rig+1] = int32(i + 1)
		}
		for r := range m.Rigs {
			out[v][r+1] = max(out[v][r+1], out[v][r])
		}
	}
	return out
}

// Roams tells whether any rig could spend a night out.
func (m *Model) Roams() bool {
	for _, r := range m.roaming() {
		if r {
			return true
		}
	}
	return false
}

// roaming tells which rigs could ever spend a night out.
func (m *Model) roaming() []bool {
	out := make([]bool, len(m.Rigs))
	for r := range m.Rigs {
		out[r] = m.Rigs[r].Standing != nil || m.Roaming
	}
	for v := range m.Visits {
		if !m.Visits[v].MayStay {
			continue
		}
		for _, c := range m.Visits[v].Where {
			out[c.Rig] = out[c.Rig] || m.Days > 1
		}
	}
	return out
}

func (st *State) openRig(r int, roaming bool) {
	rs := &st.rigs[r]
	rs.single = !roaming
	rs.days = make([]*day, st.m.Days)
	rs.fwd = make([][states]int64, st.m.Days+1)
	rs.bwd = make([][states]int64, st.m.Days+1)
	rs.views = make([]views, st.m.Days)
	rs.classes = make([]uint8, st.m.Days)
	for c := range rs.barred {
		rs.barred[c] = make([]int16, st.m.Days)
	}
	for d := range rs.days {
		rs.days[d] = &day{epoch: st.epoch, from: st.standing(r, 0)}
		st.reckon(r, d, rs.days[d])
	}
	rs.lo, rs.hi = 0, st.m.Days-1
	rs.fwd[0], rs.bwd[st.m.Days] = [states]int64{none, none, none}, [states]int64{0, none, none}
	rs.fwd[0][st.m.Rigs[r].firstNight()] = 0
	st.sleep(r)
}

// Cost is the whole plan's, in ticks.
func (st *State) Cost() int64 { return st.cost }

// Stuck tells whether a rig breaks a rule even so: it stands out and cannot
// get home.
func (st *State) Stuck(r int) bool { return st.rigs[r].cost >= none }

// Absent are the visits left out; callers do not change it.
func (st *State) Absent() []int32 { return st.absent }

// Where says where a visit is.
func (st *State) Where(v int) Where { return st.where[v] }

// Stops are the stops of a rig's day; callers do not change them.
func (st *State) Stops(r, d int) []Stop { return st.rigs[r].days[d].stops }

// own makes a day of a rig ours to change, keeping what it was.
func (st *State) own(r, d int) *day {
	x := st.rigs[r].days[d]
	if x.epoch == st.epoch {
		return x
	}
	st.saveRig(r)
	y := st.fresh()
	y.copyFrom(x)
	y.epoch = st.epoch
	st.undo = append(st.undo, undone{r, d, x})
	st.rigs[r].days[d] = y
	return y
}

func (st *State) fresh() *day {
	if n := len(st.pool); n > 0 {
		x := st.pool[n-1]
		st.pool = st.pool[:n-1]
		return x
	}
	return &day{}
}

func (st *State) saveRig(r int) {
	for i := range st.saved {
		if st.saved[i].rig == r {
			return
		}
	}
	rs := &st.rigs[r]
	n := len(st.saved)
	if n < cap(st.saved) {
		st.saved = st.saved[:n+1]
	} else {
		st.saved = append(st.saved, savedRig{})
	}
	s := &st.saved[n]
	s.rig, s.cost, s.stops = r, rs.cost, rs.stops
	if !rs.single {
		s.fwd = append(s.fwd[:0], rs.fwd...)
		s.bwd = append(s.bwd[:0], rs.bwd...)
		s.views = append(s.views[:0], rs.views...)
	}
}

// Keep makes the changes since the last Keep or Undo final.
func (st *State) Keep() {
	for i := range st.undo {
		st.pool = append(st.pool, st.undo[i].old)
	}
	st.settle()
}

// Undo takes back the changes since the last Keep or Undo, but for the order
// of the visits left out.
func (st *State) Undo() {
	for i := range st.undo {
		u := &st.undo[i]
		st.pool = append(st.pool, st.rigs[u.rig].days[u.day])
		st.rigs[u.rig].days[u.day] = u.old
		st.mark(u.rig, u.day)
	}
	for i := range st.saved {
		st.restoreRig(&st.saved[i])
	}
	for i := len(st.gone) - 1; i >= 0; i-- {
		st.where[st.gone[i].visit] = st.gone[i].was
	}
	if len(st.gone) > 0 {
		st.recount()
	}
	st.settle()
}

func (st *State) restoreRig(s *savedRig) {
	rs := &st.rigs[s.rig]
	st.cost += s.cost - rs.cost
	rs.cost, rs.stops = s.cost, s.stops
	if !rs.single {
		copy(rs.fwd, s.fwd)
		copy(rs.bwd, s.bwd)
		copy(rs.views, s.views)
	}
}

// recount lists the visits left out anew, in their own order.
func (st *State) recount() {
	for _, v := range st.absent {
		st.cost -= st.m.Visits[v].Absent
	}
	st.absent = st.absent[:0]
	for v := range st.where {
		if st.where[v].Parts == 0 {
			st.absent = append(st.absent, int32(v))
			st.cost += st.m.Visits[v].Absent
		}
	}
}

func (st *State) settle() {
	st.undo, st.saved, st.gone = st.undo[:0], st.saved[:0], st.gone[:0]
	st.epoch++
}
