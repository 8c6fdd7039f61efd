package round_test

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"

	"drawbar/routing"
	"drawbar/routing/round"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

const hour = 3600

// tables are drives between places on a plane near 40 degrees north.
func tables(t interface{ Fatal(...any) }, at []orb.Point) (towing, solo *routing.Table) {
	places := make([]routing.Place, len(at))
	for i, p := range at {
		places[i] = routing.Place{ID: fmt.Sprint("p", i), At: p}
	}
	towing, err := routing.Estimator{}.Table(context.Background(), places, routing.Towing)
	if err != nil {
		t.Fatal(err)
	}
	if solo, err = (routing.Estimator{}).Table(context.Background(), places, routing.Solo); err != nil {
		t.Fatal(err)
	}
	return towing, solo
}

// drawn is a problem with every kind of rule in it.
func drawn(t *rapid.T) round.Problem {
	n := rapid.IntRange(1, 9).Draw(t, "visits")
	days := rapid.IntRange(1, 4).Draw(t, "days")
	at := []orb.Point{{-75.6, 39}}
	for range n {
		at = append(at, orb.Point{rapid.Float64Range(-75.9, -75.3).Draw(t, "lon"), rapid.Float64Range(38.7, 39.3).Draw(t, "lat")})
	}
	p := round.Problem{Days: days, Costs: prices, Hygiene: washing()}
	p.Towing, p.Solo = tables(t, at)
	for range days {
		p.Daylight = append(p.Daylight, round.Span{From: 7 * hour, To: 17 * hour})
	}
	for i := range rapid.IntRange(1, 2).Draw(t, "rigs") {
		p.Rigs = append(p.Rigs, drawnRig(t, i, days))
	}
	if last := &p.Rigs[len(p.Rigs)-1]; rapid.Bool().Draw(t, "own roads") {
		last.Towing = roundabout(t, p.Towing, rapid.IntRange(0, n).Draw(t, "cut off"))
		last.Solo = roundabout(t, p.Solo, -1)
	}
	for i := range n {
		p.Visits = append(p.Visits, drawnVisit(t, i, &p))
	}
	return p
}

var prices = round.Costs{
	Hour: 4000, OvertimeHour: 6000, Km: 90, SoloKm: 50, RigDay: 3000, NightOut: 12000, LateHour: 15000,
	MoveDay: 20000, MoveTime: 5000, MoveRig: 3000, Tolerance: 1800,
}

func washing() round.Hygiene {
	var h round.Hygiene
	for from := range round.Classes {
		h.Home[from] = int32(from) * 900
		for to := range round.Classes {
			h.Between[from][to] = int32(from) * 900
		}
	}
	h.Wait[3][0], h.Wait[3][1] = 1, 1
	return h
}

func drawnRig(t *rapid.T, i, days int) round.Rig {
	r := round.Rig{ID: fmt.Sprint("rig", i), Home: "p0", Has: []string{"tilt"}[:rapid.IntRange(0, 1).Draw(t, "tilt")], Size: round.Size{Width: 240}}
	for range days {
		d := round.RigDay{Start: 6 * hour, End: 17 * hour, Latest: 19 * hour, MayLodge: rapid.Bool().Draw(t, "lodge"), Skills: []string{"scan"}}
		if rapid.IntRange(0, 5).Draw(t, "closed") == 0 {
			d.Closed = "workshop"
		}
		r.Days = append(r.Days, d)
	}
	return r
}

func drawnVisit(t *rapid.T, i int, p *round.Problem) round.Visit {
	v := round.Visit{
		ID: fmt.Sprint("v", i), Place: fmt.Sprint("p", i+1), Times: map[string]round.Times{}, Class: rapid.IntRange(0, 3).Draw(t, "class"),
		MayStay: rapid.Bool().Draw(t, "stay"), Lit: rapid.Bool().Draw(t, "lit"), Value: 500_000,
		Needs: [][]string{nil, {"tilt"}, {"scan"}}[rapid.IntRange(0, 2).Draw(t, "needs")], Limits: round.Size{Width: []int32{0, 230, 300}[rapid.IntRange(0, 2).Draw(t, "gate")]},
	}
	work := int32(rapid.IntRange(20, 540).Draw(t, "minutes")) * 60
	for r := range p.Rigs {
		v.Times[p.Rigs[r].ID] = round.Times{SetUp: 1800, Work: work, Pack: 1200, Late80: work / 6, Late90: work / 4}
	}
	if rapid.Bool().Draw(t, "window") {
		from := rapid.IntRange(0, p.Days-1).Draw(t, "from")
		v.Windows = []round.Window{{FromDay: from, ToDay: rapid.IntRange(from, p.Days-1).Draw(t, "to"), From: 0, To: int32(rapid.IntRange(9, 24).Draw(t, "until")) * hour}}
	}
	if v.MayStay && rapid.Bool().Draw(t, "split") {
		v.MinChunk = 2 * hour
	}
	return v
}

// Whatever is planned passes the referee, which shares no code with the
// planner, and every visit left out says why.
func TestPlansPassTheReferee(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		plan, err := round.Solve(context.Background(), p, round.Options{Seed: 1, Iterations: 200})
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range round.Validate(p, plan) {
			t.Errorf("%s", v)
		}
		for _, l := range plan.LeftOut {
			if l.Reason.Cause == "" {
				t.Errorf("%s is left out without a reason", l.Visit)
			}
		}
		if plan.Totals.Placed+len(plan.LeftOut) != len(p.Visits) {
			t.Errorf("%d placed and %d left out of %d", plan.Totals.Placed, len(plan.LeftOut), len(p.Visits))
		}
	})
}

func TestSameSeedSamePlan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		o := round.Options{Seed: rapid.Uint64().Draw(t, "seed"), Iterations: 100}
		first, err := round.Solve(context.Background(), p, o)
		if err != nil {
			t.Fatal(err)
		}
		second, _ := round.Solve(context.Background(), p, o)
		if !reflect.DeepEqual(first, second) {
			t.Errorf("two plans: %+v and %+v", first.Cost, second.Cost)
		}
	})
}

// A season is searched on as many processors as there are, and the plan does
// not depend on how many.
func TestSamePlanOnAnyMachine(t *testing.T) {
	p := generate(3, shape{visits: 120, rigs: 6, days: 8})
	o := round.Options{Seed: 3, Iterations: 3000}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	alone := solve(t, p, o)
	runtime.GOMAXPROCS(3)
	together := solve(t, p, o)
	if !reflect.DeepEqual(alone, together) {
		t.Errorf("two plans: %+v and %+v", alone.Cost, together.Cost)
	}
	for _, v := range round.Validate(p, together) {
		t.Error(v)
	}
	if first := solve(t, p, round.Options{Iterations: -1}); together.Cost.Total() >= first.Cost.Total() {
		t.Errorf("no better than the first plan, which costs %d", first.Cost.Total())
	}
}

// Stopping keeps the best plan that was told so far, and says that it stopped.
func TestCancellingKeepsTheBest(t *testing.T) {
	for seed := range uint64(20) {
		p := generate(seed, shape{visits: 20, rigs: 2, days: 5})
		ctx, cancel := context.WithCancel(t.Context())
		var told round.Ticks
		times := 0
		plan, err := round.Solve(ctx, p, round.Options{Seed: seed, Iterations: 2000, Progress: func(now round.Progress) {
			last := now.Plan()
			told = last.Cost.Total()
			if times++; times == 2 {
				cancel()
			}
		}})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range round.Validate(p, plan) {
			t.Errorf("seed %d: %v", seed, v)
		}
		if times > 1 && (!plan.Search.Stopped || plan.Cost.Total() != told) {
			t.Errorf("seed %d: the plan costs %d, the last that was told %d; stopped: %v", seed, plan.Cost.Total(), told, plan.Search.Stopped)
		}
	}
}

func TestSearchingLongerIsNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawn(t)
		short, err := round.Solve(context.Background(), p, round.Options{Iterations: -1})
		if err != nil {
			t.Fatal(err)
		}
		long, _ := round.Solve(context.Background(), p, round.Options{Iterations: 200})
		if long.Cost.Total() > short.Cost.Total() {
			t.Errorf("first plan %d, after 200 rounds %d", short.Cost.Total(), long.Cost.Total())
		}
	})
}

// With only kilometres priced, one rig and one day, the plan is a travelling
// salesman's tour; all orders of up to seven stops are tried here.
func TestShortestTourAgainstAllOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "stops")
		at := []orb.Point{{-75.6, 39}}
		for range n {
			at = append(at, orb.Point{rapid.Float64Range(-76, -75.2).Draw(t, "lon"), rapid.Float64Range(38.6, 39.4).Draw(t, "lat")})
		}
		p := round.Problem{
			Days: 1, Costs: round.Costs{Km: 100}, Daylight: []round.Span{{From: 0, To: round.Day}},
			Rigs: []round.Rig{{ID: "r", Home: "p0", Days: []round.RigDay{{Start: 0, End: round.Day, Latest: round.Day}}}},
		}
		p.Towing, p.Solo = tables(t, at)
		for i := range n {
			p.Visits = append(p.Visits, round.Visit{ID: fmt.Sprint(i), Place: fmt.Sprint("p", i+1), Value: round.MaxPrice, Times: map[string]round.Times{"r": {Work: 60}}})
		}
		plan, err := round.Solve(context.Background(), p, round.Options{Iterations: 600})
		if err != nil {
			t.Fatal(err)
		}
		if best := shortest(p.Towing, n); plan.Totals.Metres != best || len(plan.LeftOut) > 0 {
			t.Errorf("%d m with %d left out; the best order takes %d m", plan.Totals.Metres, len(plan.LeftOut), best)
		}
	})
}

// shortest tries every order.
func shortest(table *routing.Table, n int) int64 {
	best := int64(math.MaxInt64)
	var walk func(at int, seen uint, metres int64)
	walk = func(at int, seen uint, metres int64) {
		if seen == 1<<n-1 {
			best = min(best, metres+int64(table.At(at, 0).Metres))
		}
		for next := range n {
			if seen&(1<<next) == 0 {
				walk(next+1, seen|1<<next, metres+int64(table.At(at, next+1).Metres))
			}
		}
	}
	walk(0, 0, 0)
	return best
}
