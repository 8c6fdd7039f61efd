package search

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawModel makes a small model up with nights out, splitting, hygiene, waits
// and prices on everything.
func drawModel(t *rapid.T) *Model {
	n := rapid.IntRange(2, 8).Draw(t, "visits")
	small := func(name string, lo, hi int32) int32 { return rapid.Int32Range(lo, hi).Draw(t, name) }
	m := &Model{Days: rapid.IntRange(1, 6).Draw(t, "days"), Timed: true, HasLoad: true, HasDirt: true, HasWait: true}
	m.Price = Price{Second: 3, Over: 2, Late: int64(small("late", 0, 5)), RigDay: 40, Night: 60}
	m.Wait[2][0] = int(small("wait", 0, 3))
	for range m.Days {
		m.Dawn, m.Dusk = append(m.Dawn, 20), append(m.Dusk, 100)
	}
	drives := NewDrives(n + 1)
	for i := range n + 1 {
		for j := range n + 1 {
			if i != j {
				drives.Set(i, j, Leg{Dur: small("drive", 0, 25), Metres: small("metres", -1, 60)})
			}
		}
	}
	g := &Group{Drives: drives, Home: int32(n), PerMetre: 2, SetUp: make([]int32, n+1), Pack: make([]int32, n+1)}
	for v := range n {
		g.SetUp[v], g.Pack[v] = small("set-up", 0, 5), small("pack-down", 0, 5)
		g.Work, g.Spread = append(g.Work, small("work", 1, 60)), append(g.Spread, int64(small("spread", 0, 100)))
		g.Out, g.Back = append(g.Out, Edge{small("out", 0, 20), 10}), append(g.Back, Edge{small("back", 0, 20), 10})
	}
	slow := *g
	slow.SetUp, slow.Pack, slow.Work = slices.Clone(g.SetUp), slices.Clone(g.Pack), slices.Clone(g.Work)
	for v := range n {
		slow.SetUp[v] += small("more set-up", 0, 5)
		slow.Pack[v] += small("other pack-down", -g.Pack[v], 5)
		slow.Work[v] += small("other work", -g.Work[v]/2, 20)
	}
	m.Groups = []*Group{g, &slow}
	for range rapid.IntRange(1, 2).Draw(t, "rigs") {
		m.Rigs = append(m.Rigs, drawRig(t, m.Days))
	}
	for range n {
		m.Visits = append(m.Visits, drawVisit(t, m))
	}
	m.Prepare()
	return m
}

func drawRig(t *rapid.T, days int) Rig {
	r := Rig{Twin: -1}
	for range days {
		r.Days = append(r.Days, RigDay{
			Group: rapid.IntRange(0, 1).Draw(t, "crew"),
			Open:  true, Lodge: rapid.Bool().Draw(t, "lodge"), Start: 10, End: 90, Latest: 120,
			Longest: rapid.Int32Range(60, 120).Draw(t, "longest"), MaxLoad: 10,
		})
	}
	return r
}

func drawVisit(t *rapid.T, m *Model) Visit {
	v := Visit{
		Class: uint8(rapid.IntRange(0, 2).Draw(t, "class")), MayStay: rapid.Bool().Draw(t, "may stay"), Lit: rapid.Bool().Draw(t, "lit"),
		Load: rapid.Int64Range(0, 5).Draw(t, "load"), Absent: 400, Last: int32(m.Days - 1),
	}
	if v.MayStay && rapid.Bool().Draw(t, "split") {
		v.MinChunk = 8
		longer := rapid.Int32Range(1, 3).Draw(t, "times as long")
		for _, g := range m.Groups {
			g.Work[len(m.Visits)] *= longer
		}
	}
	for r := range m.Rigs {
		v.Able = append(v.Able, slices.Repeat([]bool{true}, m.Days))
		for d := range m.Days {
			if rapid.IntRange(0, 3).Draw(t, "choice") > 0 {
				early := rapid.Int32Range(10, 60).Draw(t, "early")
				v.Where = append(v.Where, Choice{Rig: int32(r), Day: int32(d), Early: early, Late: early + rapid.Int32Range(0, 60).Draw(t, "open"), Extra: int64(r)})
			}
		}
	}
	return v
}

// reckoned is what a plan costs when its stops are put into an empty one.
func reckoned(st *State) int64 {
	fresh := NewState(st.m)
	fresh.Load(st.Snapshot())
	return fresh.Cost()
}

// fill places visits, now and then not at the cheapest place. Drives may be
// longer straight than by way of a stop, so that a plan can become impossible
// when one is taken out; those are left to the search, which takes them back.
func fill(t *rapid.T, st *State) {
	rng := NewRand(rapid.Uint64().Draw(t, "seed"), 0)
	b := newBuilder(st, rng)
	b.rebuild(nobody)
	for range 3 {
		st.remove(int32(rng.IntN(len(st.where))))
		st.refreshTouched()
	}
	b.rebuild(nobody)
	if st.cost >= none {
		t.Skip("the plan became impossible")
	}
	st.Keep()
}

// A place adds what it was said to add, and taking the change back leaves the
// plan as it was.
func TestInsertionAddsWhatItSays(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		st := NewState(drawModel(t))
		fill(t, st)
		st.TakeOut(rapid.IntRange(0, len(st.where)-1).Draw(t, "taken out"))
		if st.cost >= none {
			t.Skip("the plan became impossible")
		}
		for _, v := range slices.Clone(st.absent) {
			before, at := st.cost, st.best(v, &blinker{})
			if at.delta >= none {
				continue
			}
			tried++
			st.insert(st.absentIndex(v), at)
			if got := st.cost - before + st.m.Visits[v].Absent; got != at.delta || reckoned(st) != st.cost {
				t.Fatalf("visit %d adds %d, not %d; %d in all, %d anew", v, got, at.delta, st.cost, reckoned(st))
			}
			st.Undo()
			if st.cost != before || reckoned(st) != before {
				t.Fatalf("%d before, %d after undoing, %d anew", before, st.cost, reckoned(st))
			}
		}
	})
	if tried == 0 {
		t.Error("nothing was ever left out that had a place")
	}
}

// What is passed over because it cannot be in time, or cannot pay, would not
// have been the cheapest place: every position of every choice is put in and
// reckoned.
func TestNothingCheaperIsPassedOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := NewState(drawModel(t))
		fill(t, st)
		for _, v := range slices.Clone(st.absent) {
			if st.m.Visits[v].MinChunk > 0 {
				continue
			}
			if best, said := st.tryAll(v), st.best(v, &blinker{}).delta; best != said {
				t.Fatalf("visit %d could add %d, the search says %d", v, best, said)
			}
		}
	})
}

// What is remembered of places is true for as long as it is used: after every
// change, made or taken back, a plan gives the same answer as one that is put
// together from nothing and remembers nothing.
func TestWhatIsRememberedIsTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := NewState(drawModel(t))
		st.changed(t, func() { st.checkMemory(t) })
	})
}

// changed changes a plan again and again, takes some of it back, and checks it
// after every step.
func (st *State) changed(t *rapid.T, check func()) {
	rng := NewRand(rapid.Uint64().Draw(t, "seed"), 0)
	b := newBuilder(st, rng)
	for range 12 {
		st.remove(int32(rng.IntN(len(st.where))))
		st.refreshTouched()
		check()
		b.rebuild(nobody)
		check()
		if rng.IntN(2) == 0 || st.cost >= none {
			st.Undo()
		}
		st.Keep()
		check()
	}
}

func (st *State) checkMemory(t *rapid.T) {
	fresh := NewState(st.m)
	fresh.Load(st.Snapshot())
	for _, v := range st.absent {
		if said, is := st.best(v, &blinker{}), fresh.best(v, &blinker{}); said.delta != is.delta {
			t.Fatalf("visit %d would add %d, and %d as remembered", v, is.delta, said.delta)
		}
	}
}

// tryAll is the least that a visit adds in one go, with none for nowhere.
func (st *State) tryAll(v int32) int64 {
	least := int64(none)
	for i := range st.m.Visits[v].Where {
		c := &st.m.Visits[v].Where[i]
		x, t := st.rigs[c.Rig].days[c.Day], st.trial(v, c.Rig, nil)
		t.choose(i)
		if !st.mayWait(int(c.Rig), int(c.Day), st.m.Visits[v].Class) || !t.carries() || t.stop.Early > t.stop.Late {
			continue
		}
		for pos := range len(x.stops) + 1 {
			if pos > 0 && x.stops[pos-1].closes() || pos < len(x.stops) && x.stops[pos].opens() || !st.m.clean(x, pos, st.m.Visits[v].Class) {
				continue
			}
			before := st.cost
			st.insert(st.absentIndex(v), spot{pos: int32(pos), choice: int32(i)})
			if !st.Stuck(int(c.Rig)) {
				least = min(least, st.cost-before+st.m.Visits[v].Absent)
			}
			st.Undo()
		}
	}
	return least
}

// The pattern of nights is the cheapest of all patterns, tried one by one.
func TestNightsAgainstAllPatterns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := NewState(drawModel(t))
		fill(t, st)
		for r := range st.rigs {
			rs := &st.rigs[r]
			if rs.single {
				continue
			}
			if least := cheapestNights(rs.days, Home); least != rs.cost {
				t.Fatalf("rig %d costs %d, the cheapest pattern %d", r, rs.cost, least)
			}
			sum, nights := int64(0), st.Nights(r)
			for d, x := range rs.days {
				sum += x.cost[nights[d]][nights[d+1]]
			}
			if sum != rs.cost {
				t.Fatalf("the nights %v cost %d, not %d", nights, sum, rs.cost)
			}
		}
	})
}

// cheapestNights tries every kind of night after each day; the last is at home.
func cheapestNights(days []*day, before int) int64 {
	if len(days) == 0 {
		if before == Home {
			return 0
		}
		return none
	}
	least := int64(none)
	for after := range states {
		if c := days[0].cost[before][after]; c < none {
			if rest := cheapestNights(days[1:], after); rest < none {
				least = min(least, c+rest)
			}
		}
	}
	return least
}

// twins makes two rigs of the first that differ in nothing.
func (m *Model) twins() {
	m.Rigs = []Rig{m.Rigs[0], m.Rigs[0]}
	m.Rigs[1].Twin = 0
	for i := range m.Visits {
		v := &m.Visits[i]
		v.Able = [][]bool{v.Able[0], v.Able[0]}
		v.Where = slices.DeleteFunc(v.Where, func(c Choice) bool { return c.Rig > 0 })
		for _, c := range slices.Clone(v.Where) {
			c.Rig = 1
			v.Where = append(v.Where, c)
		}
	}
}
