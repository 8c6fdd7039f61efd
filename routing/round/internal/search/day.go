package search

import "math"

// Night states: where the rig and the crew sleep.
const (
	Home  = iota // both at home
	Solo         // the rig stands out, the crew went home
	Lodge        // both out
	states
)

// none is the price of what cannot be.
// It is above any price of a whole plan, and two hundred of it still fit.
const none = 1 << 55

// Stop is one visit, or one part of it, on one day.
type Stop struct {
	Visit       int32
	Part, Parts int32 // from 1
	Work        int32
	Early, Late int32 // work begins between
	Extra       int64
	Spread      int64
	Load        int64
}

func (s *Stop) seg() Seg { return Seg{Dur: s.Work, Early: s.Early, Late: s.Late} }

// opens tells whether the rig has to be standing there already; closes,
// whether it has to stay.
func (s *Stop) opens() bool  { return s.Part > 1 }
func (s *Stop) closes() bool { return s.Part < s.Parts }

// The first predecessor of a day when the rig did not sleep at home.
const (
	fromHome     = -1 // it did
	fromStanding = -2 // where it stood before the plan
)

// day is a rig's stops of one day and what follows from them. What lies before
// fresh, or among the last kept stops, has not changed since it was reckoned.
type day struct {
	stops  []Stop
	pre    [states][]Seg // from getting up to the end of work at a stop
	suf    [states][]Seg // from the begin of work at a stop, counted from the last, to going to bed
	slots  []slot
	first  [states]Edge // to the first stop
	end    [states]Edge // from the last stop to bed
	inner  Edge         // work and everything between stops; ticks for drives and Extra
	idling int32        // the most waiting there is, whatever the nights
	spread int64
	load   int64
	cost   [states][states]int64 // by the night before and the night after
	busy   int32                 // the least time the day takes without waiting
	gaps   gaps
	from   int32 // where the rig stands in the morning, when not at home
	fresh  int
	kept   int
	epoch  uint64
	stamp  uint64 // of the stops
}

// slot is what a visit has to know of a stop that is tried before or after it.
type slot struct {
	free   int32 // when work at it can be done at the earliest, whatever the nights
	late   int32 // when it can begin at the latest, whatever the nights
	before uint8 // classes of the stops up to it, as bits
	after  uint8 // and from it on
	link   Edge  // from the stop before
}

// touch notes that the stop at pos of k was put in or taken out.
func (x *day) touch(pos, k int) {
	x.fresh, x.kept = min(x.fresh, pos), min(x.kept, k-1-pos)
}

// copyFrom makes x the same as y, with nothing shared.
func (x *day) copyFrom(y *day) {
	x.stops = append(x.stops[:0], y.stops...)
	for s := range states {
		x.pre[s] = append(x.pre[s][:0], y.pre[s]...)
		x.suf[s] = append(x.suf[s][:0], y.suf[s]...)
	}
	x.from, x.fresh, x.kept = y.from, y.fresh, y.kept
	x.first, x.cost = y.first, y.cost
}

// reckon works out what follows from the stops.
func (st *State) reckon(r, d int, x *day) {
	rig := &st.m.Rigs[r]
	n := states
	if st.rigs[r].single {
		n = 1
	} else {
		x.fresh = 0 // the morning may begin elsewhere
	}
	if k := len(x.stops); k == 0 {
		x.idle(rig, d, st.m, n)
		if x.from == fromStanding {
			x.fetchHome(st.m, rig, d)
		}
	} else {
		g := st.m.group(rig, d)
		x.sums(st.m, g)
		x.ends(g)
		for s := range n {
			x.forward(st.m, rig, d, s)
			x.backward(rig, d, s)
		}
		x.price(st.m, rig, d, n)
		x.bounds(st.m, rig, d, n)
	}
	x.fresh, x.kept = len(x.stops), len(x.stops)
	x.stamp = stamp(x.stops)
}

// idle is a day without stops: everybody stays where they are.
func (x *day) idle(rig *Rig, d int, m *Model, n int) {
	x.inner, x.idling, x.spread, x.load = Edge{}, 0, 0, 0
	x.slots, x.gaps = x.slots[:0], gaps{far, far, far}
	x.cost = [states][states]int64{{0, none, none}, {none, none, none}, {none, none, none}}
	rd := &rig.Days[d]
	if n == 1 || rd.AtHome || d == m.Days-1 {
		return
	}
	x.cost[Solo][Solo] = 0
	if rd.Lodge {
		x.cost[Lodge][Lodge] = m.Price.Night
	}
}

// fetchHome prices bringing home a rig that stood out before the plan, on a
// day with nothing else to do.
func (x *day) fetchHome(m *Model, rig *Rig, d int) {
	rd, way := &rig.Days[d], rig.Standing.Home
	if !rd.Open || rd.AtHome {
		return
	}
	for s := Solo; s < states; s++ {
		drive, money := way.Dur, way.Money
		if s == Solo {
			drive, money = drive+rig.Standing.Fetch.Dur, money+rig.Standing.Fetch.Money
		}
		run := join(Seg{Early: rd.Start, Late: far}, drive, Seg{Late: rd.Latest})
		if c := m.hours(rd, run); c < none {
			x.cost[s][Home] = c + m.Price.RigDay + money
		}
	}
}

func (x *day) sums(m *Model, g *Group) {
	x.inner, x.spread, x.load = Edge{}, 0, 0
	x.slots = x.slots[:0]
	for i := range x.stops {
		s := &x.stops[i]
		x.inner.Dur += s.Work
		x.inner.Money += s.Extra
		x.spread += s.Spread
		x.load += s.Load
		var e Edge
		if i > 0 {
			e = g.Edge(x.stops[i-1].Visit, s.Visit)
		}
		x.inner.Dur += e.Dur
		x.inner.Money += e.Money
		x.slots = append(x.slots, slot{free: far, late: -far, link: e})
	}
	if m.HasDirt {
		x.dirt(m)
	}
}

func (x *day) dirt(m *Model) {
	var before, after uint8
	k := len(x.slots)
	for i := range x.slots {
		before |= 1 << m.Visits[x.stops[i].Visit].Class
		after |= 1 << m.Visits[x.stops[k-1-i].Visit].Class
		x.slots[i].before, x.slots[k-1-i].after = before, after
	}
}

// ends are the ways to bed from the last stop.
func (x *day) ends(g *Group) {
	last := x.stops[len(x.stops)-1].Visit
	x.end = [states]Edge{g.Edge(last, g.Home), g.Back[last], {}}
}

// begin is the way from bed to the work of a day's first stop, and its price.
func (m *Model) begin(rig *Rig, d, s int, from int32, first *Stop) Edge {
	g, v := m.group(rig, d), first.Visit
	if s == Home {
		return g.Edge(g.Home, v)
	}
	var fetch, tow Edge
	switch {
	case from == fromHome:
		return Edge{Dur: far}
	case from == fromStanding:
		fetch, tow = rig.Standing.Fetch, rig.Standing.To[v]
		if !rig.Standing.Ready[v] {
			tow.Dur += g.SetUp[v]
		}
	case first.opens():
		fetch = g.Out[v]
	default:
		fetch = g.Out[from]
		tow = g.Edge(from, v)
	}
	if s == Lodge {
		return tow
	}
	return Edge{fetch.Dur + tow.Dur, fetch.Money + tow.Money}
}

func (x *day) forward(m *Model, rig *Rig, d, s int) {
	pre := x.pre[s][:min(x.fresh, len(x.pre[s]))]
	i := len(pre)
	if i == 0 {
		first := m.begin(rig, d, s, x.from, &x.stops[0])
		x.first[s] = first
		pre = append(pre, join(Seg{Early: rig.Days[d].Start, Late: far}, first.Dur, x.stops[0].seg()))
		i = 1
	}
	run := pre[i-1]
	for ; i < len(x.stops); i++ {
		run = join(run, x.slots[i].link.Dur, x.stops[i].seg())
		pre = append(pre, run)
	}
	x.pre[s] = pre
}

func (x *day) backward(rig *Rig, d, s int) {
	k := len(x.stops)
	suf := x.suf[s][:min(x.kept, len(x.suf[s]))]
	if len(suf) == 0 {
		suf = append(suf, join(x.stops[k-1].seg(), x.end[s].Dur, Seg{Late: rig.Days[d].Latest}))
	}
	run := suf[len(suf)-1]
	for i := k - 1 - len(suf); i >= 0; i-- {
		run = join(x.stops[i].seg(), x.slots[i+1].link.Dur, run)
		suf = append(suf, run)
	}
	x.suf[s] = suf
}

// rest is the run from the begin of work at a stop to going to bed.
func (x *day) rest(s, pos int) *Seg { return &x.suf[s][len(x.stops)-1-pos] }

// price fills in the cost for every pair of nights.
func (x *day) price(m *Model, rig *Rig, d, n int) {
	last := &x.stops[len(x.stops)-1]
	x.idling = 0
	for s := range states {
		for s2 := range states {
			x.cost[s][s2] = none
		}
	}
	for s := range n {
		if !mayRise(rig, d, s, &x.stops[0]) {
			continue
		}
		for s2 := range n {
			if !m.mayRest(rig, d, s2, last) {
				continue
			}
			run := join(x.pre[s][len(x.stops)-1], x.end[s2].Dur, Seg{Late: rig.Days[d].Latest})
			if cost := m.dayCost(rig, d, s2, run, x.end[s2].Dur, x.spread, last); cost < none {
				x.cost[s][s2] = cost + x.first[s].Money + x.inner.Money + x.end[s2].Money
				x.idling = max(x.idling, run.Dur-x.first[s].Dur-x.inner.Dur-x.end[s2].Dur)
			}
		}
	}
}

// bounds are what a stop that is tried on the day has to keep at the least.
func (x *day) bounds(m *Model, rig *Rig, d, n int) {
	k := len(x.stops)
	out, back := int32(far), int32(far)
	for s := range n {
		if mayRise(rig, d, s, &x.stops[0]) && x.pre[s][k-1].Warp == 0 {
			out = min(out, x.first[s].Dur)
			for i := range x.pre[s] {
				x.slots[i].free = min(x.slots[i].free, x.pre[s][i].finish())
			}
		}
		if m.mayRest(rig, d, s, &x.stops[k-1]) && x.rest(s, 0).Warp == 0 {
			back = min(back, x.end[s].Dur)
			for i := range x.suf[s] {
				x.slots[k-1-i].late = max(x.slots[k-1-i].late, x.suf[s][i].Late)
			}
		}
	}
	x.busy = out + x.inner.Dur + back
	x.open(&rig.Days[d])
}

// open notes how long one more stop could take, drives included.
func (x *day) open(rd *RigDay) {
	k := len(x.stops)
	x.gaps = gaps{x.slots[0].late - rd.Start, 0, rd.Latest - x.slots[k-1].free}
	for i := 1; i < k; i++ {
		x.gaps[1] = max(x.gaps[1], x.slots[i].late-x.slots[i-1].free)
	}
}

// mayRise tells whether a day can begin from a night of that kind.
func mayRise(rig *Rig, d, s int, first *Stop) bool {
	if s == Home {
		return !first.opens()
	}
	return !rig.Days[d].AtHome
}

// mayRest tells whether a night of that kind can follow the last stop.
func (m *Model) mayRest(rig *Rig, d, s int, last *Stop) bool {
	switch {
	case s == Home:
		return !last.closes()
	case d == m.Days-1 || !m.Visits[last.Visit].MayStay:
		return false
	case s == Lodge:
		return rig.Days[d].Lodge
	}
	return true
}

// dayCost is everything but the kilometres: hours, overtime, turning out, the
// risk of darkness, lodging; none when the hours do not allow it.
func (m *Model) dayCost(rig *Rig, d, s2 int, run Seg, toBed int32, spread int64, last *Stop) int64 {
	rd, p := &rig.Days[d], &m.Price
	cost := m.hours(rd, run)
	if cost >= none {
		return none
	}
	cost += p.RigDay
	if s2 == Lodge {
		cost += p.Night
	}
	if p.Late > 0 && !m.Visits[last.Visit].Lit {
		if late := run.finish() - toBed + Root(spread) - m.Dusk[d]; late > 0 {
			cost += p.Late * int64(late)
		}
	}
	return cost
}

// hours prices the time of a day; none when it does not fit.
func (m *Model) hours(rd *RigDay, run Seg) int64 {
	if run.Warp > 0 || run.Dur > rd.Longest {
		return none
	}
	if !m.Timed {
		return 0
	}
	cost := m.Price.Second * int64(run.Dur)
	if over := run.finish() - rd.End; over > 0 {
		cost += m.Price.Over * int64(over)
	}
	return cost
}

// Root is the square root to the nearest second.
func Root(square int64) int32 { return int32(math.Round(math.Sqrt(float64(square)))) }

// Run is a day from getting up to going to bed, between nights of two kinds.
func (st *State) Run(r, d, s, s2 int) Seg {
	x, rig := st.rigs[r].days[d], &st.m.Rigs[r]
	rd := &rig.Days[d]
	start, end := Seg{Early: rd.Start, Late: far}, Seg{Late: rd.Latest}
	if k := len(x.stops); k > 0 {
		return join(x.pre[s][k-1], x.end[s2].Dur, end)
	}
	drive := rig.Standing.Home.Dur
	if s == Solo {
		drive += rig.Standing.Fetch.Dur
	}
	return join(start, drive, end)
}
