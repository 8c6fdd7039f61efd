//go:build !race

package road_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
	"drawbar/routing/road/roadtest"
)

// randomSites snaps points strewn some 200 m about random vertices.
func randomSites(m *road.Map, n int, seed uint64) []road.Site {
	rng := rand.New(rand.NewPCG(seed, 4))
	vertices := m.Roads().Vertices
	sites := make([]road.Site, n)
	for i := range sites {
		v := vertices[rng.IntN(len(vertices))]
		sites[i] = m.Snap(orb.Point{float64(v.Lon)/1e6 + (rng.Float64()-.5)*.004, float64(v.Lat)/1e6 + (rng.Float64()-.5)*.004})
	}
	return sites
}

// fleet is both profiles with a small rig and a large one.
var fleet = map[string]drive.Vehicle{
	"small rig, towing": {Towing: true, Kg: 2000, Length: 800, Width: 200, Height: 200},
	"large rig, towing": {Towing: true, Kg: 5500, Length: 1300, Width: 255, Height: 320},
	"small rig, solo":   {Kg: 1800, Length: 480, Width: 190, Height: 180},
	"large rig, solo":   {Kg: 3300, Length: 600, Width: 210, Height: 250},
}

// TestTablesEqualDijkstra is the exactness promise: 102,400 random pairs (160 by
// 640) for every vehicle and map, to the millisecond and the decimetre.
func TestTablesEqualDijkstra(t *testing.T) {
	for _, x := range []*roadtest.Extract{roadtest.Delaware, roadtest.Andorra} {
		roads, _ := x.Roads(t)
		m := road.New(roads)
		for name, v := range fleet {
			t.Run(x.Name+", "+name, func(t *testing.T) {
				t.Parallel()
				sites := randomSites(m, 640, uint64(v.Kg))
				costs, err := m.Costs(context.Background(), sites, v)
				if err != nil {
					t.Fatal(err)
				}
				want, err := m.Dijkstra(context.Background(), sites[:160], sites, v)
				if err != nil {
					t.Fatal(err)
				}
				for i, w := range want {
					if costs[i] != w {
						t.Fatalf("%d to %d: %d, by Dijkstra %d", i/640, i%640, costs[i], w)
					}
				}
				comparePairs(t, m, sites, costs, v)
			})
		}
	}
}

// comparePairs holds single pairs and paths against the table.
func comparePairs(t *testing.T, m *road.Map, sites []road.Site, costs []drive.Cost, v drive.Vehicle) {
	t.Helper()
	rng := rand.New(rand.NewPCG(9, 9))
	for range 500 {
		i, j := rng.IntN(len(sites)), rng.IntN(len(sites))
		want := costs[i*len(sites)+j]
		if got := m.Cost(&sites[i], &sites[j], v); got != want {
			t.Fatalf("%d to %d: alone %d, in the table %d", i, j, got, want)
		}
		checkPath(t, m, &sites[i], &sites[j], v, want)
		checkLine(t, m, &sites[i], &sites[j], v)
	}
}

// checkLine holds the drawn line against the distance: within half a percent,
// and two metres for rounding.
func checkLine(t *testing.T, m *road.Map, from, to *road.Site, v drive.Vehicle) {
	t.Helper()
	p, err := m.Path(from, to, v)
	if err != nil {
		return
	}
	drawn := 0.0
	for i := 1; i < len(p.Line); i++ {
		drawn += routing.GreatCircle(p.Line[i-1], p.Line[i])
	}
	if d := math.Abs(drawn - float64(p.Metres)); d > 0.005*drawn+2 {
		t.Fatalf("a line of %.0f m for %d m", drawn, p.Metres)
	}
	if p.Line[0] != from.Place || p.Line[len(p.Line)-1] != to.Place {
		t.Fatalf("the line runs from %v to %v", p.Line[0], p.Line[len(p.Line)-1])
	}
}

// TestDetoursAreLikeThoseMeasured compares Delaware with the literature: road
// distances are about 1.3 ± 0.1 times the great circle (Wang et al., npj
// Complexity 1:22, 2024); in flat country 1.17 to 1.24 beyond 15 km (measured
// on road extracts). Times are by the quickest way, not the shortest, so a
// little more is allowed.
func TestDetoursAreLikeThoseMeasured(t *testing.T) {
	roads, _ := roadtest.Delaware.Roads(t)
	m := road.New(roads)
	sites := randomSites(m, 150, 11)
	costs, err := m.Costs(context.Background(), sites, drive.Vehicle{Towing: true})
	if err != nil {
		t.Fatal(err)
	}
	var air, driven, hours float64
	for i := range sites {
		for j := range sites {
			a := routing.GreatCircle(sites[i].Place, sites[j].Place)
			if c := costs[i*len(sites)+j]; a > 15000 && c < drive.Inf {
				air, driven = air+a, driven+float64(drive.Decimetres(c))/10
				hours += float64(drive.Millis(c)) / 3.6e6
			}
		}
	}
	if f := driven / air; f < 1.15 || f > 1.4 {
		t.Errorf("detour factor %.2f", f)
	}
	if kmh := driven / 1000 / hours; kmh < 45 || kmh > 80 {
		t.Errorf("%.0f km/h on average; the defaults of US-DE are 50 and 55 mph (80 and 89 km/h) out of town", kmh)
	}
}

// TestNearlyAllOfDelawareIsJoined: an island, a trap or a cut piece may be, but
// a map in which many roads cannot be reached is broken.
func TestNearlyAllOfDelawareIsJoined(t *testing.T) {
	roads, _ := roadtest.Delaware.Roads(t)
	var all, joined float64
	for i := range roads.Edges {
		e := &roads.Edges[i]
		all += float64(e.Length)
		if e.Flags&network.Leaves != 0 && e.Flags&network.Arrives != 0 {
			joined += float64(e.Length)
		}
	}
	if joined/all < 0.98 {
		t.Errorf("%.1f %% of the roads are joined", 100*joined/all)
	}
}

func ExampleMap_Check() {
	m := road.New(exampleTown())
	sites := []road.Site{m.Snap(orb.Point{-1, 51}), m.Snap(orb.Point{-0.99, 51})}
	diff, err := m.Check(context.Background(), sites, drive.Vehicle{Towing: true})
	fmt.Println(len(diff), err)
	// Output: 0 <nil>
}
