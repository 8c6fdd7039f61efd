package road_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"drawbar/booking/fault"
	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/extract"
	"drawbar/routing/road/network"
	"drawbar/routing/road/roadtest"
)

// at is a place in a town of roadtest, in metres east and north of its origin.
func at(x, y float64) orb.Point {
	return orb.Point{roadtest.OriginLon + x*roadtest.DegreesEast, roadtest.OriginLat + y*roadtest.DegreesUp}
}

func place(id string, x, y float64) routing.Place { return routing.Place{ID: id, At: at(x, y)} }

// The town: a main road west to east with a loop of streets north of it (so
// that every road can be left again), a farm track with a gate to the south, a
// private short cut between the main road's ends, an island, and a weak bridge
// on the short way north.
const town = `
n 1 0 0
n 2 1000 0
n 3 2000 0
n 4 1000 1000
n 5 2000 1000
n 6 1000 -600 barrier=gate
n 7 1000 -900
n 8 1000 400
n 9 1000 600
n 10 0 1000
n 20 9000 9000
n 21 9500 9000
n 22 9500 9500
w 1 1,2,3 highway=primary name=Drovers~Way maxspeed=60~mph
w 2 2,8 highway=unclassified name=Mill~Lane
w 3 8,9 highway=unclassified name=Mill~Lane bridge=yes maxweight=3
w 4 9,4 highway=unclassified name=Mill~Lane
w 5 4,5 highway=residential name=Top~Street
w 6 3,5 highway=tertiary name=East~Road
w 7 2,6,7 highway=track name=Farm~Track surface=gravel
w 8 1,4 highway=service access=private name=Park~Drive
w 9 1,10,4 highway=tertiary name=West~Road
w 20 20,21,22,20 highway=residential name=Isle~Ring
`

var (
	light = drive.Vehicle{Towing: true, Kg: 2500}
	heavy = drive.Vehicle{Towing: true, Kg: 3500}
)

func roadsOf(p *road.Path) (names []string) {
	for _, s := range p.Steps {
		names = append(names, s.Road)
	}
	return names
}

func mustPath(t *testing.T, m *road.Map, from, to orb.Point, v drive.Vehicle) *road.Path {
	t.Helper()
	a, b := m.Snap(from), m.Snap(to)
	p, err := m.Path(&a, &b, v)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestAWeakBridgeTurnsTheHeavyRigAway(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	short := mustPath(t, m, at(1000, 50), at(1000, 950), light)
	long := mustPath(t, m, at(1000, 50), at(1000, 950), heavy)
	if got := roadsOf(short); !slices.Equal(got, []string{"Mill Lane"}) {
		t.Errorf("the light rig drives %v", got)
	}
	if got := roadsOf(long); slices.Contains(got, "Park Drive") || len(got) < 4 || long.Metres < 3*short.Metres {
		t.Errorf("the heavy rig drives %v, %d m", got, long.Metres)
	}
	if short.Metres < 880 || short.Metres > 920 {
		t.Errorf("900 m measure %d", short.Metres)
	}
}

func TestPrivateRoadsServeOnlyTheirOwn(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	if got := roadsOf(mustPath(t, m, at(0, 10), at(1000, 990), light)); slices.Contains(got, "Park Drive") {
		t.Errorf("through the park: %v", got)
	}
	if got := roadsOf(mustPath(t, m, at(500, 500), at(2000, 500), light)); !slices.Contains(got, "Park Drive") {
		t.Errorf("a house in the park is left by %v", got)
	}
}

func TestCautionsOnTheWayToTheFarm(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	p := mustPath(t, m, at(1000, 900), at(1000, -890), light)
	var got []string
	for _, c := range p.Cautions {
		got = append(got, fmt.Sprintf("%s %s %d", c.Road, c.Code, (c.Metres+50)/100*100))
	}
	want := []string{"Mill Lane weak bridge 300", "Farm Track unpaved 900", "Farm Track gate 1500"}
	for i := range want {
		if i >= len(got) || got[i] != want[i] {
			t.Fatalf("cautions %q, want %q", got, want)
		}
	}
}

func TestSnapTakesTheRoadWithTheGate(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	for _, c := range []struct {
		name    string
		x, y    float64
		road    string
		problem string
	}{
		{"beside the lane", 1020, 200, "Mill Lane", ""},
		{"on the farm", 1050, -800, "Farm Track", ""},
		{"nearer to the main road than to the track, but not by much", 1040, -30, "Farm Track", ""},
		{"in the fields", 1000, -1700, "Farm Track", "800 m away"},
		{"out at sea", 1000, -30000, "", "No road"},
		{"on the island", 9250, 9010, "Isle Ring", "not joined"},
	} {
		s := m.Snap(at(c.x, c.y))
		if s.Road != c.road || !strings.Contains(s.Problem, c.problem) || (c.problem == "") != (s.Problem == "") {
			t.Errorf("%s: road %q, problem %q", c.name, s.Road, s.Problem)
		}
		if s.Found != (c.road != "") {
			t.Errorf("%s: found %v", c.name, s.Found)
		}
	}
}

func TestSnapPrefersRoadsThatAreJoined(t *testing.T) {
	m := road.New(roadtest.Town(t, town+`
n 30 200 -40
n 31 400 -40
w 30 30,31 highway=unclassified name=Nowhere
n 40 2000 -300
n 41 2200 -300
w 40 40,41 highway=unclassified name=Cut~Off`))
	if s := m.Snap(at(300, -45)); s.Road != "Drovers Way" {
		t.Errorf("beside a piece of road that leads nowhere: %q", s.Road)
	}
	if s := m.Snap(at(2100, -3000)); s.Found {
		t.Errorf("three kilometres out: %+v", s)
	}
}

func TestTableSaysWhatIsEstimatedAndWhatIsClosed(t *testing.T) {
	m := road.New(roadtest.Town(t, town+`
n 50 3000 0
n 51 3300 0
w 50 3,50 highway=unclassified maxweight=3 name=Weak~Lane
w 51 50,51 highway=track`))
	places := []routing.Place{place("lane", 1000, 200), place("isle", 9250, 9000), place("sea", 0, -40000), place("weak", 3200, 0)}
	table, err := m.For(routing.Rig{Train: routing.Size{Kg: 3500}, Alone: routing.Size{Kg: 1500}}).Table(context.Background(), places, routing.Towing)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		from, to            int
		reachable, estimate bool
	}{{0, 1, true, true}, {0, 2, true, true}, {2, 0, true, true}, {0, 3, false, false}, {3, 0, false, false}} {
		leg := table.At(c.from, c.to)
		if leg.Reachable != c.reachable || leg.Estimate != c.estimate {
			t.Errorf("%s to %s: %+v", places[c.from].ID, places[c.to].ID, leg)
		}
		if c.estimate && leg != routing.Estimate(places[c.from].At, places[c.to].At, routing.Towing) {
			t.Errorf("%s to %s: not the estimate: %+v", places[c.from].ID, places[c.to].ID, leg)
		}
	}
	solo, err := m.For(routing.Rig{Train: routing.Size{Kg: 3500}, Alone: routing.Size{Kg: 1500}}).Table(context.Background(), places, routing.Solo)
	if err != nil || !solo.At(0, 3).Reachable || solo.At(0, 3).Estimate {
		t.Errorf("without the rig: %+v, %v", solo.At(0, 3), err)
	}
}

func TestReasonsWhyThereIsNoWay(t *testing.T) {
	m := road.New(roadtest.Town(t, town+`
n 50 3000 0
n 51 3300 0
w 50 3,50 highway=unclassified maxweight=3 name=Weak~Lane
w 51 50,51 highway=track`))
	lane, isle, sea, weak := m.Snap(at(1000, 200)), m.Snap(at(9250, 9000)), m.Snap(at(0, -40000)), m.Snap(at(3200, 0))
	for _, c := range []struct {
		to   *road.Site
		want string
	}{{&isle, "not joined to the others"}, {&sea, "No road for cars"}, {&weak, "Weak Lane, limit 3.0 t, the train weighs 3.5 t"}, {&lane, ""}} {
		if got := m.WhyNot(&lane, c.to, heavy); !strings.Contains(got, c.want) || (got == "") != (c.want == "") {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if _, err := m.Path(&lane, &weak, heavy); !fault.Is(err, fault.NotFound) || !strings.Contains(fault.Sentence(err), "Weak Lane") {
		t.Errorf("path: %v", err)
	}
}

func TestTurnRestrictionOverAWayIsKept(t *testing.T) {
	// From West Road over Top Street into East Road the last turn is forbidden,
	// so one comes from the other side.
	const rule = "\nn 60 2600 1000\nw 60 5,60 highway=tertiary name=Far~Road\nn 61 2600 0\nw 61 60,61,3 highway=tertiary name=Far~Road\nr no_right_turn 9 w5 6"
	free, kept := road.New(roadtest.Town(t, town+rule[:strings.Index(rule, "\nr ")])), road.New(roadtest.Town(t, town+rule))
	before, after := mustPath(t, free, at(0, 950), at(2000, 900), light), mustPath(t, kept, at(0, 950), at(2000, 900), light)
	if got := roadsOf(before); !slices.Equal(got, []string{"West Road", "Top Street", "East Road"}) {
		t.Errorf("without the rule: %v", got)
	}
	if got := roadsOf(after); slices.Equal(got, roadsOf(before)) || after.Seconds <= before.Seconds {
		t.Errorf("with the rule: %v", got)
	}
}

func TestNoTurningRoundWithTheTrailerOn(t *testing.T) {
	// Two sites on one road of a ring: the second lies behind. Alone one turns
	// round at the next junction; with the trailer one drives round the ring.
	m := road.New(roadtest.Town(t, `
n 1 0 0
n 2 2000 0
n 3 2000 2000
n 4 0 2000
n 5 2300 0
n 6 2300 2000
w 1 1,2 highway=secondary oneway=yes
w 2 2,3 highway=secondary
w 3 3,4 highway=secondary
w 4 4,1 highway=secondary
w 5 2,5 highway=secondary
w 6 5,6,3 highway=secondary`))
	from, to := m.Snap(at(1990, 300)), m.Snap(at(1990, 200))
	if p := mustPath(t, m, at(2000, 1000), at(2000, 900), light); p.Metres > 110 {
		t.Errorf("driving on: %d m", p.Metres)
	}
	arriving := mustPath(t, m, at(1500, 0), at(500, 0), light)
	if arriving.Metres < 6500 {
		t.Errorf("back along a one-way road with the trailer: %d m, the ring is 8 km", arriving.Metres)
	}
	if m.Cost(&from, &to, light) >= drive.Inf {
		t.Error("one cannot start the other way")
	}
}

func TestBadPlacesAreRefused(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	for _, p := range []orb.Point{{0, 91}, {181, 0}, {math.NaN(), 51}} {
		if _, err := m.For(routing.Rig{}).Table(context.Background(), []routing.Place{{ID: "a", At: p}}, routing.Solo); !fault.Is(err, fault.Invalid) {
			t.Errorf("%v: %v", p, err)
		}
		if s := m.Snap(p); s.Found || s.Problem == "" {
			t.Errorf("%v: %+v", p, s)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := m.For(routing.Rig{}).Table(ctx, []routing.Place{place("a", 0, 0)}, routing.Solo); err == nil {
		t.Error("a table in an ended context")
	}
}

func TestTablesAreKept(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	places := []routing.Place{place("a", 100, 0), place("b", 1900, 0)}
	table := func(v drive.Vehicle, p []routing.Place) *routing.Table {
		t.Helper()
		tb, err := m.For(routing.Rig{Train: routing.Size{Kg: v.Kg}}).Table(context.Background(), p, routing.Towing)
		if err != nil {
			t.Fatal(err)
		}
		return tb
	}
	first := table(light, places)
	if table(light, places) != first || table(drive.Vehicle{Kg: 2900}, places) != first {
		t.Error("the same table was made twice")
	}
	if table(heavy, places) == first {
		t.Error("a rig that may go elsewhere got the same table")
	}
	if moved := []routing.Place{place("a", 101, 0), places[1]}; table(light, moved) == first {
		t.Error("a yard was moved and the table was not")
	}
	places[0].ID = "changed"
	if _, ok := first.Index("a"); !ok || first.Places()[0].ID != "a" {
		t.Error("the kept table changed with the caller's slice")
	}
}

func TestManyAtOnceAgree(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	a, b := m.Snap(at(100, 0)), m.Snap(at(1000, -800))
	want := road.New(roadtest.Town(t, town)).Cost(&a, &b, light)
	var wg sync.WaitGroup
	for i := range 16 {
		wg.Go(func() {
			v := light
			if i%2 == 1 {
				v.Kg = 100 // another vehicle, stopped by the same roads
			}
			if got := m.Cost(&a, &b, v); got != want {
				t.Errorf("%d, want %d", got, want)
			}
			m.Path(&a, &b, heavy)
		})
	}
	wg.Wait()
}

func TestImportWritesAFileThatOpens(t *testing.T) {
	var file bytes.Buffer
	report, err := road.Import(context.Background(), strings.NewReader(roadtest.TownXML(town)), &file, extract.Options{Format: extract.XML, Region: "GB"})
	if err != nil || report.Ways != 10 {
		t.Fatalf("report %+v, error %v", report, err)
	}
	m, err := road.Open(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	info := m.Info()
	if info.Region != "GB" || !info.Rules.DriveLeft || info.Source != "© OpenStreetMap contributors" || info.Edges != report.Edges {
		t.Errorf("info %+v", info)
	}
	if _, err := road.Open(file.Bytes()[:100]); !fault.Is(err, fault.Invalid) {
		t.Errorf("a cut file: %v", err)
	}
}

// exampleTown is two kilometres of road.
func exampleTown() *network.Roads {
	roads, _, err := extract.Import(context.Background(), strings.NewReader(roadtest.TownXML(`
n 1 -500 0
n 2 1500 0
w 1 1,2 highway=secondary name=Long~Lane maxspeed=40~mph`)), extract.Options{Format: extract.XML, Region: "GB"})
	if err != nil {
		panic(err)
	}
	return roads
}

func Example() {
	m := road.New(exampleTown())
	from, to := m.Snap(orb.Point{-1, 51}), m.Snap(orb.Point{-0.99, 51})
	p, err := m.Path(&from, &to, drive.Vehicle{Towing: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Steps[0].Road, p.Metres, "m", p.Seconds, "s")
	// Output: Long Lane 700 m 43 s
}
