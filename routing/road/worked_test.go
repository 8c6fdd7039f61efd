package road_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/roadtest"
)

// These are worked examples: what a drive takes is added up by hand from its
// lengths, the limits of GB (rule 124 of the Highway Code: trailers 50 mph on
// single carriageways) and the stated constants of package drive, which are
// common practice without a source. Distances are good to a metre, because
// positions are rounded to a tenth of one.

const kmhOf50mph = 80.0 // as whole km/h

func seconds(t *testing.T, m *road.Map, from, to orb.Point, v drive.Vehicle) float64 {
	t.Helper()
	a, b := m.Snap(from), m.Snap(to)
	c := m.Cost(&a, &b, v)
	if c >= drive.Inf {
		t.Fatalf("no way: %s", m.WhyNot(&a, &b, v))
	}
	return float64(drive.Millis(c)) / 1000
}

func about(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 0.005*want+0.6 {
		t.Errorf("%s: %.1f s, by hand %.1f", what, got, want)
	}
}

func TestASignedRoadByHand(t *testing.T) {
	m := road.New(roadtest.Town(t, "n 1 0 0\nn 2 6000 0\nw 1 1,2 highway=primary maxspeed=60~mph"))
	// A car drives 92 % of 97 km/h; a train may drive 80.
	about(t, "car, 5 km", seconds(t, m, at(500, 0), at(5500, 0), drive.Vehicle{}), 5000/(0.92*97/3.6))
	about(t, "train, 5 km", seconds(t, m, at(500, 0), at(5500, 0), drive.Vehicle{Towing: true}), 5000/(kmhOf50mph/3.6))
}

func TestATurnByHand(t *testing.T) {
	m := road.New(roadtest.Town(t, `
n 1 -1000 0
n 2 0 0
n 3 1000 0
n 4 0 1000
w 1 1,2 highway=tertiary maxspeed=20~mph
w 2 2,3 highway=tertiary maxspeed=20~mph
w 3 2,4 highway=tertiary maxspeed=20~mph`))
	speed := 0.92 * 32 / 3.6
	train := drive.Vehicle{Towing: true}
	about(t, "straight on", seconds(t, m, at(-500, 0), at(500, 0), train), 1000/speed)
	// Driving on the left, a left turn takes a train 5 s and a right turn 8 s.
	about(t, "left", seconds(t, m, at(-500, 0), at(0, 500), train), 1000/speed+5)
	about(t, "right", seconds(t, m, at(500, 0), at(0, 500), train), 1000/speed+8)
	about(t, "right, alone", seconds(t, m, at(500, 0), at(0, 500), drive.Vehicle{}), 1000/speed+5)
}

func TestThingsOnTheRoadByHand(t *testing.T) {
	train := drive.Vehicle{Towing: true}
	plain := func(t *testing.T, tags string) float64 {
		t.Helper()
		m := road.New(roadtest.Town(t, "n 1 0 0\nn 2 1000 0 "+tags+"\nn 3 2000 0\nw 1 1,2,3 highway=secondary maxspeed=30~mph\n"+
			"n 4 -200 0\nw 2 4,1 highway=secondary maxspeed=30~mph\nn 5 2200 0\nw 3 3,5 highway=secondary maxspeed=30~mph"))
		return seconds(t, m, at(-100, 0), at(2100, 0), train)
	}
	free := plain(t, "")
	for tags, more := range map[string]float64{
		"barrier=gate":            60,
		"barrier=cattle_grid":     8,
		"ford=yes":                25,
		"barrier=toll_booth":      20,
		"traffic_calming=hump":    3,
		"railway=level_crossing":  6,
		"highway=crossing":        0,
		"barrier=entrance":        0,
		"highway=traffic_signals": 5, // half of 10 where no direction is said
		"highway=traffic_signals traffic_signals:direction=forward":  10,
		"highway=traffic_signals traffic_signals:direction=backward": 0,
		"highway=give_way direction=forward":                         4,
	} {
		about(t, tags, plain(t, tags), free+more)
	}
}

func TestAFerryByHand(t *testing.T) {
	m := road.New(roadtest.Town(t, `
n 1 0 0
n 2 100 0
n 3 5100 0
n 4 5200 0
n 5 0 300
n 6 5200 300
w 1 5,1,2 highway=tertiary maxspeed=20~mph
w 2 2,3 route=ferry motor_vehicle=yes duration=00:15
w 3 3,4,6 highway=tertiary maxspeed=20~mph`))
	p := mustPath(t, m, at(50, 0), at(5150, 0), drive.Vehicle{Towing: true})
	// 100 m by road, 20 minutes to wait and board, 15 minutes of crossing.
	about(t, "over the water", float64(p.Seconds), 100/(0.92*32/3.6)+20*60+15*60)
	if len(p.Cautions) != 1 || p.Cautions[0].Code != "ferry" {
		t.Errorf("cautions %v", p.Cautions)
	}
	if s := m.Snap(at(2500, 0)); s.Found && s.Class.String() == "ferry" {
		t.Errorf("a place at sea was put on the ferry: %+v", s)
	}
}

func TestTurningRoundByHand(t *testing.T) {
	// A one-way road comes from the north to a street and may only be left to
	// the east. To the west one drives to the street's east end, turns there
	// (a train takes 90 s, 15 s where there is a turning circle) and comes back.
	const street = `
n 1 0 600
n 2 0 0
n 3 300 0 %s
n 4 -500 0
w 1 1,2 highway=residential maxspeed=20~mph oneway=yes
w 2 2,3 highway=residential maxspeed=20~mph
w 3 2,4 highway=residential maxspeed=20~mph
r only_left_turn 1 2 2`
	for tags, turn := range map[string]float64{"": 90, "highway=turning_circle": 15} {
		m := road.New(roadtest.Town(t, fmt.Sprintf(street, tags)))
		got := seconds(t, m, at(0, 100), at(-200, 0), drive.Vehicle{Towing: true})
		about(t, "over the end "+tags, got, (100+300+300+200)/(0.92*32/3.6)+5+turn)
	}
}

func TestGroundBetweenRoadAndYardCounts(t *testing.T) {
	m := road.New(roadtest.Town(t, "n 1 0 0\nn 2 2000 0\nw 1 1,2 highway=secondary maxspeed=30~mph"))
	onRoad := seconds(t, m, at(500, 0), at(1500, 0), drive.Vehicle{})
	// 80 m of field at 8 km/h are 36 s at each end.
	about(t, "from yard to yard", seconds(t, m, at(500, 80), at(1500, -80), drive.Vehicle{}), onRoad+72)
}

func TestALockedGateIsForItsFarmOnly(t *testing.T) {
	const ring = `
n 1 0 0
n 2 1000 0
n 3 1000 1000
n 4 0 1000
n 5 500 0 barrier=gate locked=yes
n 6 -400 0
n 7 1400 0
w 1 1,5,2 highway=unclassified name=Short~Lane
w 2 2,3 highway=unclassified name=East~Lane
w 3 3,4 highway=unclassified name=North~Lane
w 4 4,1 highway=unclassified name=West~Lane
w 5 6,1 highway=unclassified name=Far~West
w 6 2,7 highway=unclassified name=Far~East`
	m := road.New(roadtest.Town(t, ring))
	if got := roadsOf(mustPath(t, m, at(-200, 0), at(1200, 0), drive.Vehicle{Towing: true})); slices.Contains(got, "Short Lane") {
		t.Errorf("through the locked gate: %v", got)
	}
	p := mustPath(t, m, at(450, 0), at(550, 0), drive.Vehicle{Towing: true})
	if len(p.Cautions) != 2 || p.Cautions[1].Code != "locked gate" || p.Metres > 110 {
		t.Errorf("from one side of the gate to the other: %d m, cautions %v", p.Metres, p.Cautions)
	}
}

func TestHeightAndLengthLimitsHold(t *testing.T) {
	const ring = `
n 1 0 0
n 2 1000 0
n 3 1000 1000
n 4 0 1000
w 1 1,2 highway=unclassified %s
w 2 2,3,4,1 highway=unclassified name=Long~Lane`
	for tags, v := range map[string]drive.Vehicle{
		"maxheight=2.7": {Towing: true, Height: 280},
		"maxlength=9":   {Towing: true, Length: 1150},
		"maxwidth=2.2":  {Towing: true, Width: 250},
		"width=2.4":     {Towing: true, Width: 250},
		"maxweight=3.5": {Towing: true, Kg: 3600},
		"trailer=no":    {Towing: true},
		"maxaxleload=1": {Towing: true, Kg: 3600},
		"hgv=no":        {},
	} {
		m := road.New(roadtest.Town(t, fmt.Sprintf(ring, tags)))
		short := mustPath(t, m, at(100, 0), at(900, 0), drive.Vehicle{}).Metres < 900
		if !short {
			t.Errorf("%s: a car of unknown size goes round", tags)
		}
		a, b := m.Snap(at(0, 20)), m.Snap(at(1000, 20))
		p, err := m.Path(&a, &b, v)
		if err != nil {
			t.Errorf("%s: %v", tags, err)
			continue
		}
		limited := v != (drive.Vehicle{})
		if round := p.Metres > 2000; round != limited {
			t.Errorf("%s: %d m for %+v", tags, p.Metres, v)
		}
	}
}

func TestAOneWayTrapIsSaid(t *testing.T) {
	m := road.New(roadtest.Town(t, town+`
n 70 2600 0
n 71 3000 300
w 70 3,70 highway=unclassified oneway=yes name=Trap~Lane
w 71 70,71 highway=unclassified oneway=yes name=Trap~Lane`))
	if s := m.Snap(at(2400, 5)); s.Road != "Trap Lane" || !strings.Contains(s.Problem, "none out") {
		t.Errorf("beside a road with no way out: %q, %q", s.Road, s.Problem)
	}
	table, err := m.For(routing.Rig{}).Table(context.Background(), []routing.Place{place("home", 100, 0), place("trap", 2900, 240)}, routing.Towing)
	if err != nil {
		t.Fatal(err)
	}
	if in, out := table.At(0, 1), table.At(1, 0); in.Estimate || !in.Reachable || !out.Estimate {
		t.Errorf("in %+v, out %+v", in, out)
	}
}
