package round_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/round"
)

// shape is how large and how wild a made-up problem is.
type shape struct {
	visits, rigs, days int
	tame               bool // no rules beyond hours, crews, daylight, windows and needs
}

// generate makes a problem up, all rules on unless tame. Numbers are drawn
// wide, so that some visits cannot be placed and some rules bite.
func generate(seed uint64, s shape) round.Problem {
	g := generator{rng: rand.New(rand.NewPCG(seed, 7)), shape: s}
	g.tables()
	g.frame()
	for i := range s.rigs {
		g.rig(i)
	}
	for i := range s.visits {
		g.visit(i)
	}
	if !s.tame {
		g.rng = rand.New(rand.NewPCG(seed, 8))
		g.more()
	}
	g.rng = rand.New(rand.NewPCG(seed, 9))
	g.crews()
	return g.p
}

type generator struct {
	shape
	rng    *rand.Rand
	p      round.Problem
	places int
}

func (g *generator) odds(p float64) bool        { return g.rng.Float64() < p }
func (g *generator) between(lo, hi int) int     { return lo + g.rng.IntN(hi-lo+1) }
func (g *generator) seconds(lo, hi int32) int32 { return lo + g.rng.Int32N(hi-lo+1) }

// tables draws points in a square of 60 km and drives at about 50 km/h.
func (g *generator) tables() {
	g.places = g.rigs + max(1, g.visits*4/5)
	at := make([]orb.Point, g.places)
	for i := range at {
		at[i] = orb.Point{g.rng.Float64() * 60000, g.rng.Float64() * 60000}
	}
	g.p.Towing, g.p.Solo = g.table(at, 13), g.table(at, 16)
}

func (g *generator) table(at []orb.Point, speed float64) *routing.Table {
	n := len(at)
	places, legs := make([]routing.Place, n), make([]routing.Leg, n*n)
	for i := range at {
		places[i] = routing.Place{ID: place(i)}
		for j := range at {
			metres := math.Hypot(at[i][0]-at[j][0], at[i][1]-at[j][1])
			legs[i*n+j] = routing.Leg{Seconds: int32(math.Ceil(metres / speed)), Metres: int32(math.Ceil(metres)), Reachable: true}
		}
	}
	t, err := routing.NewTable(places, legs)
	if err != nil {
		panic(err)
	}
	return t
}

func place(i int) string { return fmt.Sprintf("P%d", i) }

func (g *generator) frame() {
	g.p.Days = g.days
	for range g.days {
		g.p.Daylight = append(g.p.Daylight, round.Span{From: 7 * hour, To: g.seconds(16*hour, 19*hour)})
	}
	g.p.Costs = round.Costs{Hour: 4000, Km: 90, OvertimeHour: 2000}
	if g.tame {
		return
	}
	g.p.Costs = round.Costs{
		Hour: 4000, OvertimeHour: 2000, Km: 90, SoloKm: 50, RigDay: 1500, NightOut: 6000,
		LateHour: 9000, MoveDay: 8000, MoveTime: 2500, MoveRig: 1000, Tolerance: 1800,
	}
	g.p.Hygiene = round.Hygiene{
		Between: [4][4]int32{{0, 300, 600, 900}, {900, 300, 600, 900}, {1800, 1800, 600, 1200}, {2400, 2400, 2400, 900}},
		Home:    [4]int32{0, 300, 900, 1800},
		Wait:    [4][4]int{3: {2, 1, 1, 0}, 2: {1, 0, 0, 0}},
	}
}

func (g *generator) rig(i int) {
	r := round.Rig{ID: fmt.Sprintf("R%d", i), Home: place(i), Size: round.Size{Width: int32(g.between(220, 260)), Mass: int32(g.between(1500, 3000))}}
	for _, kit := range []string{"tilt", "scales", "gates"} {
		if g.odds(0.7) {
			r.Has = append(r.Has, kit)
		}
	}
	for range g.days {
		r.Days = append(r.Days, g.rigDay())
	}
	if !g.tame && g.days > 1 && g.odds(0.2) {
		r.Standing = &round.Standing{Place: place(g.between(g.rigs, g.places-1)), SetUp: true, Pack: 1200, Class: g.between(0, 1), Lodged: g.odds(0.5)}
	}
	if !g.tame && g.odds(0.3) {
		r.Visited = append(r.Visited, round.Visited{DaysAgo: 1, Class: g.between(0, 3)})
	}
	if r.Standing != nil {
		r.Days[0] = round.RigDay{Start: 6 * hour, End: 17 * hour, Latest: 18 * hour} // so that it can be brought home
	}
	g.p.Rigs = append(g.p.Rigs, r)
}

func (g *generator) rigDay() round.RigDay {
	d := round.RigDay{Start: g.seconds(6*hour, 8*hour), End: g.seconds(15*hour, 18*hour)}
	d.Latest = d.End
	if g.odds(0.5) {
		d.Skills = []string{"scanning"}
	}
	if g.tame {
		return d
	}
	d.Latest += g.seconds(0, 2*hour)
	d.MayLodge = g.odds(0.6)
	if g.odds(0.1) {
		d.Closed = "holiday"
	}
	if g.odds(0.05) {
		d.AtHome = true
	}
	if g.odds(0.3) {
		d.Longest = g.seconds(9*hour, 11*hour)
	}
	if g.odds(0.3) {
		d.MaxLoad = int64(g.between(300, 900))
	}
	return d
}

func (g *generator) visit(i int) {
	v := round.Visit{
		ID: fmt.Sprintf("V%d", i), Place: place(g.between(g.rigs, g.places-1)),
		Times: map[string]round.Times{}, Value: int64(g.between(5000, 60000)), Load: int64(g.between(50, 400)),
	}
	base := round.Times{SetUp: g.seconds(600, 1800), Work: g.seconds(1*hour, 5*hour), Pack: g.seconds(600, 1500)}
	for r := range g.rigs {
		if g.odds(0.85) {
			t := base
			t.Work += int32(r) * 300
			t.Late80, t.Late90 = t.Work/6, t.Work/4
			v.Times[g.p.Rigs[r].ID] = t
		}
	}
	for _, need := range []string{"tilt", "scales", "scanning"} {
		if g.odds(0.15) {
			v.Needs = append(v.Needs, need)
		}
	}
	g.windows(&v)
	if !g.tame {
		g.wild(&v)
	}
	g.p.Visits = append(g.p.Visits, v)
}

func (g *generator) windows(v *round.Visit) {
	for range g.between(0, 2) {
		from := g.between(0, g.days-1)
		w := round.Window{FromDay: from, ToDay: g.between(from, g.days-1), From: g.seconds(7*hour, 11*hour)}
		w.To = g.seconds(w.From+hour, 17*hour)
		if g.odds(0.3) {
			w.Extra = int64(g.between(0, 2000))
		}
		v.Windows = append(v.Windows, w)
	}
	if g.odds(0.2) {
		v.DoneWithin = g.between(1, g.days)
	}
}

func (g *generator) wild(v *round.Visit) {
	v.Class = max(0, g.between(-4, 3))
	v.MayStay = g.odds(0.5)
	v.Lit = g.odds(0.2)
	if g.odds(0.15) {
		v.Limits.Width = int32(g.between(220, 270))
	}
	if v.MayStay && g.odds(0.5) {
		v.MinChunk = g.seconds(1, 3) * hour
		g.lengthen(v)
	}
	if g.odds(0.15) {
		v.Pin = &round.Pin{Day: g.between(-1, g.days-1), Start: round.AnyTime}
		if g.odds(0.5) {
			v.Pin.Rig = g.p.Rigs[g.between(0, g.rigs-1)].ID
		}
	}
	if g.odds(0.3) {
		v.Promise = &round.Promise{Rig: g.p.Rigs[g.between(0, g.rigs-1)].ID, Day: g.between(0, g.days-1), Start: g.seconds(8*hour, 14*hour)}
	}
}

// lengthen makes a visit that may be split long enough to need it, sometimes.
func (g *generator) lengthen(v *round.Visit) {
	more := g.seconds(0, 3) * 2 * hour
	for id, t := range v.Times {
		t.Work += more
		t.Late80, t.Late90 = t.Work/6, t.Work/4
		v.Times[id] = t
	}
	v.Value += int64(more)
}

// more are the rules that came later: they have a source of their own, so that
// the rest of each problem stays what it was. A rig may need other roads than
// the others, a gate may be too low or a bridge too weak, and a pin may say when.
func (g *generator) more() {
	for i := range g.p.Rigs {
		r := &g.p.Rigs[i]
		r.Size.Length, r.Size.Height = int32(g.between(600, 1000)), int32(g.between(200, 300))
		if g.odds(0.2) {
			r.Towing = g.slower(r, g.p.Towing)
		}
		if g.odds(0.1) {
			r.Solo = g.slower(r, g.p.Solo)
		}
	}
	for i := range g.p.Visits {
		v := &g.p.Visits[i]
		if g.odds(0.1) {
			v.Limits = round.Size{Width: v.Limits.Width, Length: int32(g.between(800, 1000)), Height: int32(g.between(250, 300)), Mass: int32(g.between(2000, 3000))}
		}
		if v.Pin != nil && g.odds(0.5) {
			v.Pin.Start = g.seconds(7*hour, 15*hour)
		}
	}
}

// crews sends fewer hands with a rig on some days: they take longer, and some
// visits they cannot do at all.
func (g *generator) crews() {
	for i := range g.p.Rigs {
		r, some := &g.p.Rigs[i], "some of "+g.p.Rigs[i].ID
		few := g.between(0, 3*g.days) // perhaps no day
		if few >= g.days {
			continue
		}
		r.Days[few].Crew = some
		for d := range r.Days {
			if g.odds(0.3) {
				r.Days[d].Crew = some
			}
		}
		for _, v := range g.p.Visits {
			if t, may := v.Times[r.ID]; may && g.odds(0.8) {
				v.Times[some] = g.longer(t)
			}
		}
	}
}

func (g *generator) longer(t round.Times) round.Times {
	t.SetUp, t.Pack = t.SetUp+g.seconds(0, 600), t.Pack+g.seconds(0, 600)
	t.Work += g.seconds(0, hour)
	t.Late80, t.Late90 = t.Work/6, t.Work/4
	return t
}

// slower is a table with detours, and here and there a place without a way.
func (g *generator) slower(r *round.Rig, t *routing.Table) *routing.Table {
	n := t.Len()
	cut := make([]bool, n)
	for i := g.rigs; i < n; i++ {
		cut[i] = g.odds(0.1) && (r.Standing == nil || r.Standing.Place != place(i))
	}
	legs := make([]routing.Leg, n*n)
	for i := range legs {
		legs[i] = t.At(i/n, i%n)
		if i/n != i%n {
			more := g.seconds(0, 900)
			legs[i].Seconds, legs[i].Metres = legs[i].Seconds+more, legs[i].Metres+10*more
			legs[i].Reachable = !cut[i/n] && !cut[i%n]
		}
	}
	out, err := routing.NewTable(t.Places(), legs)
	if err != nil {
		panic(err)
	}
	return out
}
