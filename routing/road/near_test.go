package road_test

import (
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// drawLanes strews unclassified lanes over some 20 km, all of them joined to
// the rest, so that nothing but distance matters to Snap.
func drawLanes(t *rapid.T) *network.Roads {
	r := &network.Roads{Region: "GB", Names: []string{""}, Kinds: []network.Kind{{Class: network.Unclassified, Access: [2]tag.Access{}}}}
	point := rapid.Custom(func(t *rapid.T) network.Point {
		return network.Point{Lat: 51e6 + rapid.Int32Range(0, 200000).Draw(t, "lat"), Lon: rapid.Int32Range(0, 300000).Draw(t, "lon")}
	})
	for i := range rapid.IntRange(1, 12).Draw(t, "lanes") {
		from := point.Draw(t, "from")
		bend := network.Point{Lat: from.Lat + rapid.Int32Range(-9000, 9000).Draw(t, "north"), Lon: from.Lon + rapid.Int32Range(-9000, 9000).Draw(t, "east")}
		end := network.Point{Lat: bend.Lat + rapid.Int32Range(1, 9000).Draw(t, "north"), Lon: bend.Lon}
		r.Vertices, r.At = append(r.Vertices, from, end), append(r.At, 0, 0)
		r.Shapes, r.ShapeEnd = append(r.Shapes, bend), append(r.ShapeEnd, uint32(i+1))
		r.Edges = append(r.Edges, network.Edge{From: int32(2 * i), To: int32(2*i + 1), Flags: network.ThroughAlong | network.ThroughAgainst | network.Leaves | network.Arrives,
			Length: int32(math.Round(network.Length([]network.Point{from, bend, end})))})
	}
	return r
}

// gap is the distance in metres from a point to a lane, by walking along it in
// steps of a few metres.
func gap(r *network.Roads, edge int32, p orb.Point) float64 {
	line := r.Line(2*edge, nil)
	best := math.Inf(1)
	for i := 1; i < len(line); i++ {
		const steps = 400
		for k := range steps + 1 {
			f := float64(k) / steps
			q := orb.Point{
				(float64(line[i-1].Lon) + f*float64(line[i].Lon-line[i-1].Lon)) / 1e6,
				(float64(line[i-1].Lat) + f*float64(line[i].Lat-line[i-1].Lat)) / 1e6,
			}
			best = min(best, routing.GreatCircle(p, q))
		}
	}
	return best
}

func TestSnapIsTheNearestLane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawLanes(t)
		m := road.New(r)
		at := orb.Point{rapid.Float64Range(-0.03, 0.33).Draw(t, "lon"), rapid.Float64Range(50.97, 51.23).Draw(t, "lat")}
		want := math.Inf(1)
		for e := range r.Edges {
			want = min(want, gap(r, int32(e), at))
		}
		s := m.Snap(at)
		switch {
		case s.Found != (want <= 2000) && math.Abs(want-2000) > 10:
			t.Fatalf("found %v, the nearest lane is %.0f m away", s.Found, want)
		case s.Found && math.Abs(float64(s.Gap)/10-want) > 4:
			t.Fatalf("%.1f m to the lane found, %.1f m to the nearest", float64(s.Gap)/10, want)
		case s.Found && math.Abs(routing.GreatCircle(at, s.At)-float64(s.Gap)/10) > 1:
			t.Fatalf("a gap of %.1f m to a point %.1f m away", float64(s.Gap)/10, routing.GreatCircle(at, s.At))
		case s.Found && (s.Offset < 0 || s.Offset > r.Edges[s.Edge].Length):
			t.Fatalf("offset %d on %d dm", s.Offset, r.Edges[s.Edge].Length)
		}
	})
}

func TestWithinMissesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawLanes(t)
		m := road.New(r)
		a := orb.Point{rapid.Float64Range(-0.1, 0.4).Draw(t, "lon"), rapid.Float64Range(50.9, 51.3).Draw(t, "lat")}
		box := orb.Bound{Min: a, Max: orb.Point{a[0] + rapid.Float64Range(0, 0.2).Draw(t, "wide"), a[1] + rapid.Float64Range(0, 0.2).Draw(t, "high")}}
		var got []int32
		m.Within(box, func(e int32) { got = append(got, e) })
		slices.Sort(got)
		if len(slices.Compact(slices.Clone(got))) != len(got) {
			t.Fatalf("an edge was visited twice: %v", got)
		}
		for e := range r.Edges {
			inside := slices.ContainsFunc(r.Line(int32(2*e), nil), func(p network.Point) bool {
				return box.Contains(orb.Point{float64(p.Lon) / 1e6, float64(p.Lat) / 1e6})
			})
			if inside && !slices.Contains(got, int32(e)) {
				t.Fatalf("lane %d lies in the box and was not visited", e)
			}
			if b := m.Bound(); !b.Contains(orb.Point{float64(r.Vertices[r.Edges[e].From].Lon) / 1e6, float64(r.Vertices[r.Edges[e].From].Lat) / 1e6}) {
				t.Fatalf("lane %d begins outside %v", e, b)
			}
		}
	})
}
