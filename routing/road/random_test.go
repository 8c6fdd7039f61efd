package road_test

import (
	"context"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"drawbar/routing/road"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// drawRoads makes small networks of every kind: one-way, closed, private and
// banned, parallel and looped, of no length, in pieces, in any order of
// contraction.
func drawRoads(t *rapid.T) *network.Roads {
	r := &network.Roads{Region: "GB", Names: []string{"", "A", "B"}}
	for range rapid.IntRange(2, 9).Draw(t, "vertices") {
		r.Vertices = append(r.Vertices, network.Point{Lat: 51e6 + rapid.Int32Range(0, 6).Draw(t, "lat")*1000, Lon: rapid.Int32Range(0, 6).Draw(t, "lon") * 1000})
		r.At = append(r.At, network.VertexFlags(rapid.IntRange(0, 3).Draw(t, "at")))
	}
	for range 4 {
		r.Kinds = append(r.Kinds, drawKind(t))
	}
	vertex := rapid.Int32Range(0, int32(len(r.Vertices))-1)
	for i := range rapid.IntRange(1, 16).Draw(t, "edges") {
		e := network.Edge{From: vertex.Draw(t, "from"), To: vertex.Draw(t, "to"), Kind: rapid.Int32Range(0, 3).Draw(t, "kind"), Name: rapid.Int32Range(0, 2).Draw(t, "name")}
		e.Length = rapid.SampledFrom([]int32{0, 1, 700, 1500}).Draw(t, "length")
		e.Flags = drawFlags(t, &r.Kinds[e.Kind])
		r.Edges, r.ShapeEnd = append(r.Edges, e), append(r.ShapeEnd, 0)
		r.Order = append(r.Order, int32(i))
	}
	r.Order = rapid.Permutation(r.Order).Draw(t, "order")
	arc := rapid.Int32Range(0, int32(2*len(r.Edges))-1)
	for range rapid.IntRange(0, 5).Draw(t, "bans") {
		r.Bans = append(r.Bans, network.Ban{Arcs: rapid.SliceOfN(arc, 2, 4).Draw(t, "ban"), Tow: rapid.Bool().Draw(t, "tow")})
	}
	return r
}

func drawKind(t *rapid.T) network.Kind {
	access := rapid.SampledFrom([]tag.Access{tag.Through, tag.Through, tag.LegOnly, tag.Closed})
	return network.Kind{
		Class:    network.Class(rapid.IntRange(0, int(network.Classes)-1).Draw(t, "class")),
		Access:   [2]tag.Access{access.Draw(t, "along"), access.Draw(t, "against")},
		MaxKg:    rapid.SampledFrom([]uint32{0, 0, 3000}).Draw(t, "max kg"),
		Features: network.Feature(rapid.Uint16Range(0, 1<<13-1).Draw(t, "features")),
	}
}

// drawFlags lets an open road be for driving through, or not.
func drawFlags(t *rapid.T, k *network.Kind) (f network.EdgeFlags) {
	for d := range 2 {
		if k.Access[d] == tag.Through && rapid.IntRange(0, 3).Draw(t, "through") > 0 {
			f |= network.ThroughAlong << d
		}
	}
	return f | network.Leaves | network.Arrives
}

func drawVehicle(t *rapid.T) drive.Vehicle {
	return drive.Vehicle{Towing: rapid.Bool().Draw(t, "towing"), Kg: rapid.SampledFrom([]int{0, 2500, 5000}).Draw(t, "kg")}
}

// drawSites makes sites anywhere on the network, two on the same spot at times.
func drawSites(t *rapid.T, r *network.Roads) []road.Site {
	sites := make([]road.Site, rapid.IntRange(1, 6).Draw(t, "sites"))
	for i := range sites {
		e := rapid.Int32Range(0, int32(len(r.Edges))-1).Draw(t, "edge")
		sites[i] = road.Site{
			Found: rapid.IntRange(0, 9).Draw(t, "found") > 0, Edge: e,
			Offset: rapid.Int32Range(0, r.Edges[e].Length).Draw(t, "offset"), Gap: rapid.Int32Range(0, 300).Draw(t, "gap"),
			Place: orb.Point{0, 51}, Problem: "drawn",
		}
	}
	return sites
}

func TestRandomNetworksAgainstDijkstra(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRoads(t)
		m, sites := road.New(r), drawSites(t, r)
		for range 2 {
			v := drawVehicle(t)
			diff, err := m.Check(context.Background(), sites, v)
			if err != nil || len(diff) > 0 {
				t.Fatalf("%+v: differences %+v, error %v", v, diff, err)
			}
		}
	})
}

func TestRandomPathsAreDrivable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRoads(t)
		m, sites, v := road.New(r), drawSites(t, r), drawVehicle(t)
		costs, err := m.Costs(context.Background(), sites, v)
		if err != nil {
			t.Fatal(err)
		}
		for i := range sites {
			for j := range sites {
				want := costs[i*len(sites)+j]
				if got := m.Cost(&sites[i], &sites[j], v); got != want {
					t.Fatalf("%d to %d: alone %d, in the table %d", i, j, got, want)
				}
				checkPath(t, m, &sites[i], &sites[j], v, want)
			}
		}
	})
}

// checkPath holds a path against the cost the table gives.
func checkPath(t interface{ Fatalf(string, ...any) }, m *road.Map, from, to *road.Site, v drive.Vehicle, want drive.Cost) {
	p, err := m.Path(from, to, v)
	if (err != nil) != (want >= drive.Inf) {
		t.Fatalf("path error %v, cost %d", err, want)
	}
	if err != nil {
		if m.WhyNot(from, to, v) == "" {
			t.Fatalf("no way and no reason")
		}
		return
	}
	var metres, seconds int32
	for _, s := range p.Steps {
		metres, seconds = metres+s.Metres, seconds+s.Seconds
	}
	slack := int32(len(p.Steps))
	if d := metres - p.Metres; d > slack || d < -slack {
		t.Fatalf("steps of %d m on a path of %d m", metres, p.Metres)
	}
	if d := seconds - p.Seconds; d > slack || d < -slack {
		t.Fatalf("steps of %d s on a path of %d s", seconds, p.Seconds)
	}
	if wantMetres := drive.Decimetres(want); int64(p.Metres)*10-wantMetres > 5 || wantMetres-int64(p.Metres)*10 > 5 {
		t.Fatalf("path of %d m, cost says %d dm", p.Metres, wantMetres)
	}
}
