package network_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// cross is a crossroads: vertex 0 in the middle, 1 east, 2 north, 3 west,
// 4 south, 100 m away each. Edge i leads from the middle to vertex i+1.
func cross(classes ...network.Class) *network.Roads {
	const arm = 1000 // millionths of a degree
	r := &network.Roads{
		Names:    []string{""},
		Vertices: []network.Point{{}, {Lon: arm}, {Lat: arm}, {Lon: -arm}, {Lat: -arm}},
		At:       make([]network.VertexFlags, 5),
	}
	for i := range int32(4) {
		class := network.Residential
		if int(i) < len(classes) {
			class = classes[i]
		}
		r.Kinds = append(r.Kinds, network.Kind{Class: class})
		r.Edges = append(r.Edges, network.Edge{From: 0, To: i + 1, Kind: i, Length: 1000})
		r.ShapeEnd = append(r.ShapeEnd, 0)
	}
	return r
}

// turn finds the turn between two arcs.
func turn(t *network.Turns, from, to int32) (network.Turn, bool) {
	for i := t.Start[from]; i < t.Start[from+1]; i++ {
		if t.Arc[t.To[i]] == to {
			return t.How[i], true
		}
	}
	return 0, false
}

func TestShapesOfTurns(t *testing.T) {
	turns := network.BuildTurns(cross())
	fromSouth := int32(2*3 + 1) // arc 7: from vertex 4 to the middle, heading north
	for to, want := range map[int32]network.Turn{0: network.Right, 2: network.Ahead, 4: network.Left} {
		if got, ok := turn(turns, fromSouth, to); !ok || got.Shape() != want {
			t.Errorf("from the south onto arc %d: %v, %v; want %v", to, got.Shape(), ok, want)
		}
	}
}

func TestSharpTurns(t *testing.T) {
	r := cross()
	r.Vertices[3] = network.Point{Lat: -900, Lon: -300} // the west arm bends back to the south
	turns := network.BuildTurns(r)
	if got, _ := turn(turns, 7, 4); got.Shape() != network.SharpLeft {
		t.Errorf("back to the south-west: %v", got.Shape())
	}
	if got, _ := turn(turns, 5, 6); got.Shape() != network.SharpRight {
		t.Errorf("from the south-west to the south: %v", got.Shape())
	}
}

func TestWhereTurningRoundIsPossible(t *testing.T) {
	for _, c := range []struct {
		name string
		make func() *network.Roads
		arc  int32
		want network.Turn
		ok   bool
	}{
		{"at the end of a road", func() *network.Roads { return cross() }, 0, network.UDeadEnd, true},
		{"at a turning circle", func() *network.Roads {
			r := cross()
			r.At[1] = network.TurningPlace
			return r
		}, 0, network.UCircle, true},
		{"at a junction of streets", func() *network.Roads { return cross() }, 1, network.UOpen, true},
		{"at a junction with a farm track", func() *network.Roads { return cross(network.Residential, network.Track) }, 1, network.UBackIn, true},
		{"on a main road with a farm track", func() *network.Roads { return cross(network.Primary, network.Track) }, 1, 0, false},
		{"on a secondary road with a farm track", func() *network.Roads { return cross(network.Secondary, network.Track) }, 1, network.UOpen, true},
	} {
		got, ok := turn(network.BuildTurns(c.make()), c.arc, c.arc^1)
		if ok != c.ok || got.Shape() != c.want {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, got.Shape(), ok, c.want, c.ok)
		}
	}
}

func TestMarksOnTurns(t *testing.T) {
	r := cross(network.Primary, network.Residential, network.Primary)
	turns := network.BuildTurns(r)
	if got, _ := turn(turns, 3, 6); !got.Has(network.GiveWay) {
		t.Error("crossing a primary road from a side street does not wait")
	}
	if got, _ := turn(turns, 1, 4); got.Has(network.GiveWay) {
		t.Error("straight on along the primary road waits")
	}
	r.At[0] = network.Signals
	if got, _ := turn(network.BuildTurns(r), 3, 6); !got.Has(network.AtSignals) || got.Has(network.GiveWay) {
		t.Error("signals do not take the place of giving way")
	}
}

func TestOneWayHasNoTurnBack(t *testing.T) {
	r := cross()
	r.Kinds[0].Access[1] = tag.Closed
	turns := network.BuildTurns(r)
	if _, ok := turn(turns, 0, 1); ok {
		t.Error("turned round into a one-way road")
	}
	if got := turns.Start[2] - turns.Start[1]; got != 0 {
		t.Errorf("%d turns out of a closed arc", got)
	}
}

// TestBansAgainstTheirDefinition drives random runs of arcs through the turn
// graph. A run is possible exactly if no ban is a stretch of it.
func TestBansAgainstTheirDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := cross()
		for i := range r.At {
			r.At[i] = network.TurningPlace // every run of arcs that meet is possible
		}
		arcsFrom := func(v int32) (list []int32) {
			for a := range int32(8) {
				if r.Tail(a) == v {
					list = append(list, a)
				}
			}
			return list
		}
		run := func(label string, least, most int) []int32 {
			arcs := []int32{rapid.Int32Range(0, 7).Draw(t, label)}
			for range rapid.IntRange(least, most).Draw(t, label+" length") - 1 {
				arcs = append(arcs, rapid.SampledFrom(arcsFrom(r.Head(arcs[len(arcs)-1]))).Draw(t, label))
			}
			return arcs
		}
		for range rapid.IntRange(0, 6).Draw(t, "bans") {
			r.Bans = append(r.Bans, network.Ban{Arcs: run("ban", 2, 5), Tow: rapid.Bool().Draw(t, "tow")})
		}
		turns := network.BuildTurns(r)
		for range 20 {
			arcs := run("drive", 1, 9)
			car, train := drivable(turns, arcs)
			if wantCar := !banned(r.Bans, arcs, false); car != wantCar {
				t.Fatalf("car over %v: %v, want %v", arcs, car, wantCar)
			}
			if wantTrain := !banned(r.Bans, arcs, true); train != wantTrain {
				t.Fatalf("train over %v: %v, want %v", arcs, train, wantTrain)
			}
		}
	})
}

func drivable(t *network.Turns, arcs []int32) (car, train bool) {
	train = true
	s := arcs[0]
	for _, arc := range arcs[1:] {
		next := int32(-1)
		for i := t.Start[s]; i < t.Start[s+1]; i++ {
			if t.Arc[t.To[i]] == arc {
				next, train = t.To[i], train && !t.How[i].Has(network.NotTowing)
			}
		}
		if next < 0 {
			return false, false
		}
		s = next
	}
	return true, train
}

func banned(bans []network.Ban, arcs []int32, tow bool) bool {
	for _, b := range bans {
		for i := 0; i+len(b.Arcs) <= len(arcs); i++ {
			if (tow || !b.Tow) && slices.Equal(b.Arcs, arcs[i:i+len(b.Arcs)]) {
				return true
			}
		}
	}
	return false
}

func TestStrongPartsAgainstReachability(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "states")
		g := &network.Turns{Arc: make([]int32, n), Start: []int32{0}}
		reach := make([][]bool, n)
		in := make([]bool, n)
		for s := range n {
			in[s] = rapid.IntRange(0, 4).Draw(t, "in") > 0
			reach[s] = make([]bool, n)
			reach[s][s] = true
		}
		for s := range n {
			for _, to := range rapid.SliceOfN(rapid.IntRange(0, n-1), 0, 3).Draw(t, "to") {
				g.To, g.How = append(g.To, int32(to)), append(g.How, 0)
				reach[s][to] = reach[s][to] || in[s] && in[to]
			}
			g.Start = append(g.Start, int32(len(g.To)))
		}
		for k := range n {
			for a := range n {
				for b := range n {
					reach[a][b] = reach[a][b] || reach[a][k] && reach[k][b]
				}
			}
		}
		part, size := g.StrongParts(func(s int32) bool { return in[s] })
		counted := make([]int32, len(size))
		for a := range n {
			if (part[a] >= 0) != in[a] {
				t.Fatalf("state %d in part %d", a, part[a])
			}
			if in[a] {
				counted[part[a]]++
			}
			for b := range n {
				if in[a] && in[b] && (part[a] == part[b]) != (reach[a][b] && reach[b][a]) {
					t.Fatalf("states %d and %d in parts %d and %d", a, b, part[a], part[b])
				}
			}
		}
		if !slices.Equal(counted, size) {
			t.Fatalf("sizes %v, counted %v", size, counted)
		}
	})
}

func TestReversedTwiceIsTheSame(t *testing.T) {
	turns := network.BuildTurns(cross(network.Primary, network.Track))
	back := turns.Reversed()
	for s := range int32(turns.States()) {
		for i := turns.Start[s]; i < turns.Start[s+1]; i++ {
			found := false
			for k := back.Start[turns.To[i]]; k < back.Start[turns.To[i]+1]; k++ {
				found = found || back.To[k] == s && back.How[k] == turns.How[i]
			}
			if !found {
				t.Errorf("turn %d→%d is not in the reversed graph", s, turns.To[i])
			}
		}
	}
	if len(back.To) != len(turns.To) {
		t.Errorf("%d turns, %d reversed", len(turns.To), len(back.To))
	}
}

func TestDistanceAgainstTheEllipsoid(t *testing.T) {
	// Lengths of one degree on WGS 84 (NIMA TR8350.2, from memory): along the
	// equator 111,319.5 m; along the meridian 110,574 m from the equator,
	// 111,132 m about 45°. A sphere stays within 0.6 %.
	for _, c := range []struct {
		a, b   network.Point
		metres float64
	}{
		{network.Point{}, network.Point{Lon: 1e6}, 111319.5},
		{network.Point{}, network.Point{Lat: 1e6}, 110574},
		{network.Point{Lat: 44.5e6}, network.Point{Lat: 45.5e6}, 111132},
	} {
		if got := network.Distance(c.a, c.b) / 10; math.Abs(got-c.metres) > 0.006*c.metres {
			t.Errorf("%v to %v: %.0f m, want %.0f", c.a, c.b, got, c.metres)
		}
	}
}

func TestDistanceAgainstGeodesics(t *testing.T) {
	// Inverse geodesics on WGS 84 by GeodSolve of GeographicLib 2.1.2. A sphere
	// of the mean radius is at most 0.56 % off, worst along a meridian near the
	// equator; between these places 0.34 %, worst along a parallel in the north.
	for _, c := range []struct{ lat1, lon1, lat2, lon2, metres float64 }{
		{39.16, -75.52, 39.74, -75.55, 64445.722},
		{39.16, -75.52, 38.45, -75.05, 88763.860},
		{42.5, 1.5, 42.6, 1.6, 13815.047},
		{52.0, -3.5, 52.4, -3.9, 52239.157},
		{-41.3, 174.8, -36.85, 174.76, 494037.902},
		{57.5, -4.2, 58.6, -3.1, 138665.954},
		{53.3, -6.3, 51.9, -8.5, 215596.707},
		{-33.9, 18.4, -34.0, 19.0, 56561.523},
		{61.2, 8.5, 60.4, 5.3, 195681.902},
		{39.158, -75.524, 39.159, -75.522, 205.445},
	} {
		a := network.Point{Lat: int32(math.Round(c.lat1 * 1e6)), Lon: int32(math.Round(c.lon1 * 1e6))}
		b := network.Point{Lat: int32(math.Round(c.lat2 * 1e6)), Lon: int32(math.Round(c.lon2 * 1e6))}
		if got := network.Distance(a, b) / 10; math.Abs(got-c.metres) > 0.0035*c.metres {
			t.Errorf("%v to %v: %.1f m, geodesic %.1f", a, b, got, c.metres)
		}
		if there, back := network.Distance(a, b), network.Distance(b, a); math.Abs(there-back) > 1e-6*there {
			t.Errorf("%v to %v: %.3f there, %.3f back", a, b, there, back)
		}
	}
}

func TestLengthAddsUp(t *testing.T) {
	line := []network.Point{{Lat: 51e6}, {Lat: 51e6 + 1000}, {Lat: 51e6 + 3000, Lon: 500}}
	want := network.Distance(line[0], line[1]) + network.Distance(line[1], line[2])
	if got := network.Length(line); got != want || network.Length(line[:1]) != 0 || network.Length(nil) != 0 {
		t.Errorf("%.1f, want %.1f", got, want)
	}
}

func TestBearingsLookPastAKink(t *testing.T) {
	// The road from the south leaves the junction with a kink of two metres to
	// the east and then runs on south: what counts is where it runs after some
	// twelve metres, so the way from north to south stays straight.
	r := cross()
	r.Shapes, r.ShapeEnd = []network.Point{{Lat: -5, Lon: 18}, {Lat: -200}}, []uint32{0, 0, 0, 2}
	turns := network.BuildTurns(r)
	if got, _ := turn(turns, 3, 6); got.Shape() != network.Ahead {
		t.Errorf("north to south over a kink: %v", got.Shape())
	}
}

func TestParallelAndLoopedRoads(t *testing.T) {
	r := cross()
	r.Edges = append(r.Edges, network.Edge{From: 0, To: 1, Length: 1500}, network.Edge{From: 0, To: 0, Length: 900})
	r.ShapeEnd = append(r.ShapeEnd, 0, 0)
	turns := network.BuildTurns(r)
	if _, ok := turn(turns, 0, 9); !ok {
		t.Error("the second road between two junctions does not lead back")
	}
	for _, c := range [][2]int32{{7, 10}, {7, 11}, {10, 2}, {11, 2}, {10, 10}} {
		if _, ok := turn(turns, c[0], c[1]); !ok {
			t.Errorf("no turn from %d to %d by the loop", c[0], c[1])
		}
	}
}

func TestClassesHaveWords(t *testing.T) {
	seen := map[string]bool{}
	for c := range network.Classes {
		if w := c.String(); w == "" || w == "unknown" || seen[w] {
			t.Errorf("class %d is called %q", c, w)
		} else {
			seen[w] = true
		}
	}
	if network.Classes.String() != "unknown" {
		t.Errorf("beyond the last: %q", network.Classes.String())
	}
}

func TestLineRunsBothWays(t *testing.T) {
	r := cross()
	r.Shapes, r.ShapeEnd = []network.Point{{Lat: 1}, {Lat: 2}}, []uint32{0, 2, 2, 2}
	there, back := r.Line(2, nil), r.Line(3, nil)
	slices.Reverse(back)
	if !slices.Equal(there, back) || len(there) != 4 {
		t.Errorf("there %v, back %v", there, back)
	}
}

func ExampleRoads_Line() {
	r := cross()
	fmt.Println(r.Line(0, nil), r.Line(1, nil))
	// Output: [{0 0} {0 1000}] [{0 1000} {0 0}]
}
