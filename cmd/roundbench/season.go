package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"time"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/round"
	"drawbar/testdata"
)

const hour = 3600

// season makes up a season: a rig and four weeks for every 80 visits, farms in
// clusters, all rules on. Farms are invented; drives are those of the roads.
func season(ctx context.Context, roads routing.Roads, visits int, seed uint64) (round.Problem, error) {
	s := maker{rng: rand.New(rand.NewPCG(seed, 3)), rigs: max(1, visits/80)}
	var places []routing.Place
	for i := range s.rigs + visits {
		places = append(places, routing.Place{ID: id(i), At: s.point()})
	}
	s.p.Days = 28
	var err error
	router := roads.For(routing.Rig{})
	if s.p.Towing, err = router.Table(ctx, places, routing.Towing); err != nil {
		return s.p, err
	}
	if s.p.Solo, err = router.Table(ctx, places, routing.Solo); err != nil {
		return s.p, err
	}
	s.rules()
	for i := range s.rigs {
		s.rig(i)
	}
	for i := range visits {
		s.visit(s.rigs + i)
	}
	return s.p, nil
}

type maker struct {
	rng   *rand.Rand
	rigs  int
	towns []orb.Point
	p     round.Problem
}

// point is near one of a few towns of Delaware, west of the bay.
func (s *maker) point() orb.Point {
	if len(s.towns) < 8 {
		s.towns = append(s.towns, orb.Point{-75.66 + 0.2*s.rng.Float64(), 38.52 + s.rng.Float64()})
	}
	t := s.towns[s.rng.IntN(len(s.towns))]
	return orb.Point{t[0] + 0.03*s.rng.NormFloat64(), t[1] + 0.04*s.rng.NormFloat64()}
}

func (s *maker) odds(p float64) bool { return s.rng.Float64() < p }

func (s *maker) rules() {
	for range s.p.Days {
		s.p.Daylight = append(s.p.Daylight, round.Span{From: 7 * hour, To: 18 * hour})
	}
	s.p.Costs = round.Costs{
		Hour: 3500, OvertimeHour: 1800, Km: 80, SoloKm: 45, RigDay: 1000, NightOut: 7000,
		LateHour: 6000, MoveDay: 6000, MoveTime: 2000, MoveRig: 500, Tolerance: 1800,
	}
	s.p.Hygiene = round.Hygiene{
		Between: [4][4]int32{{0, 300, 600, 900}, {900, 300, 600, 900}, {1800, 1800, 600, 1200}, {2400, 2400, 2400, 900}},
		Home:    [4]int32{0, 300, 900, 1800},
		Wait:    [4][4]int{3: {2, 1, 1, 0}},
	}
}

func (s *maker) rig(i int) {
	r := round.Rig{ID: id(i), Home: id(i), Size: round.Size{Width: 230 + 5*s.rng.Int32N(6)}}
	for _, kit := range []string{"tilt", "scales", "gates"} {
		if s.odds(0.75) {
			r.Has = append(r.Has, kit)
		}
	}
	for d := range s.p.Days {
		day := round.RigDay{Start: 6 * hour, End: 17 * hour, Latest: 19 * hour, Longest: 12 * hour, MayLodge: d%7 < 4, MaxLoad: 1500}
		if s.odds(0.6) {
			day.Skills = []string{"scanning"}
		}
		if d%7 >= 5 {
			day.Closed = "weekend"
		}
		r.Days = append(r.Days, day)
	}
	s.p.Rigs = append(s.p.Rigs, r)
}

func (s *maker) visit(i int) {
	v := round.Visit{
		ID: id(i), Place: id(i), Times: map[string]round.Times{}, Value: int64(20000 + s.rng.IntN(60000)),
		Load: int64(60 + s.rng.IntN(400)), MayStay: s.odds(0.4), Lit: s.odds(0.2),
	}
	if s.odds(0.15) {
		v.Class = 1 + s.rng.IntN(3)
	}
	from := s.rng.IntN(s.p.Days - 3)
	v.Windows = []round.Window{{FromDay: from, ToDay: min(s.p.Days-1, from+3+s.rng.IntN(12)), From: 7 * hour, To: 17 * hour}}
	if s.odds(0.2) {
		v.Windows[0].To = 11 * hour
	}
	for _, need := range []string{"tilt", "scales", "scanning"} {
		if s.odds(0.1) {
			v.Needs = append(v.Needs, need)
		}
	}
	work := int32(2400 + s.rng.IntN(2*hour))
	if v.MayStay && s.odds(0.1) {
		v.MinChunk = 2 * hour
		work += 6 * hour
	}
	for r := range s.rigs {
		w := work + work*int32(r%3)/20
		v.Times[id(r)] = round.Times{SetUp: 1200, Work: w, Pack: 900, Late80: w / 6, Late90: w / 4}
	}
	if s.odds(0.2) {
		v.Promise = &round.Promise{Rig: id(s.rng.IntN(s.rigs)), Day: v.Windows[0].FromDay + 1, Start: 9 * hour}
	}
	s.p.Visits = append(s.p.Visits, v)
}

// grow plans made-up seasons of each size in each budget, and prints how soon
// there is a first plan, what it costs then and at the end, and the memory the
// process has had so far.
func (b *bench) grow(sizes []int, budgets ...time.Duration) error {
	roads, err := road.Open(testdata.Roads)
	if err != nil {
		return err
	}
	fmt.Fprintf(b.out, "%8s %5s %8s %8s %9s %8s %11s %11s %5s %7s\n", "visits", "rigs", "roads %", "seconds", "left out", "first s", "first cost", "cost", "MB", "it/s")
	for _, n := range sizes {
		p, err := season(b.ctx, roads, n, b.seed)
		if err != nil {
			return err
		}
		for _, budget := range budgets {
			if err := b.oneSeason(p, budget); err != nil {
				return err
			}
		}
	}
	return nil
}

func (b *bench) oneSeason(p round.Problem, budget time.Duration) error {
	start := b.now()
	var first time.Duration
	var firstCost round.Ticks
	o := b.options(start, budget)
	o.Progress = func(now round.Progress) {
		if firstCost == 0 {
			first, firstCost = b.now().Sub(start), now.Best
		}
	}
	plan, err := round.Solve(b.ctx, p, o)
	if err != nil {
		return err
	}
	took := b.now().Sub(start)
	if wrong := round.Validate(p, plan); len(wrong) > 0 {
		return fmt.Errorf("the referee objects: %v", wrong[0])
	}
	fmt.Fprintf(b.out, "%8d %5d %8.1f %8g %9d %8.3f %11d %11d %5d %7.0f\n", len(p.Visits), len(p.Rigs), measured(p.Towing), budget.Seconds(), plan.Totals.LeftOut, first.Seconds(),
		firstCost.Minor(), plan.Cost.Total().Minor(), megabytes(), float64(plan.Search.Iterations)/took.Seconds())
	return nil
}

// measured is how many of a hundred legs are driven on the map, not estimated.
func measured(t *routing.Table) float64 {
	n, known := t.Len(), 0
	for i := range n {
		for j := range n {
			if !t.At(i, j).Estimate {
				known++
			}
		}
	}
	return 100 * float64(known) / float64(max(n*n, 1))
}

// megabytes is what the process has had from the system.
func megabytes() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.Sys >> 20
}
