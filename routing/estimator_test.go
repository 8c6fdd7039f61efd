package routing_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"drawbar/routing"
)

func ExampleEstimator() {
	yards := []routing.Place{
		{ID: "home", At: orb.Point{-75.52, 39.16}},
		{ID: "hill yard", At: orb.Point{-75.55, 39.30}},
	}
	table, err := routing.Estimator{}.Table(context.Background(), yards, routing.Towing)
	if err != nil {
		panic(err)
	}
	leg := table.At(0, 1)
	fmt.Println(leg.Metres/1000, "km,", leg.Seconds/60, "min, estimate:", leg.Estimate)
	// Output: 20 km, 22 min, estimate: true
}

// Geodesics on WGS 84 by GeodSolve of GeographicLib 2.1 (Karney 2013); the
// first is the worked example in its manual. A sphere is good to 0.6 %.
func TestGreatCircleAgainstGeodesics(t *testing.T) {
	for _, c := range []struct {
		name   string
		a, b   orb.Point
		metres float64
	}{
		{"New York to Singapore, the manual's example", orb.Point{-(73 + 46.0/60 + 44.0/3600), 40 + 38.0/60 + 23.0/3600}, orb.Point{103 + 59.0/60 + 22.0/3600, 1 + 21.0/60 + 33.0/3600}, 15347627.7},
		{"New York to London", orb.Point{-73.8, 40.6}, orb.Point{-0.5, 51.6}, 5551759.4},
		{"length of Delaware", orb.Point{-75.39, 38.69}, orb.Point{-75.55, 39.74}, 117386.6},
		{"width of Sussex County", orb.Point{-75.50, 38.70}, orb.Point{-75.10, 38.70}, 34796.4},
		{"Cumbria to Dumfriesshire", orb.Point{-2.9, 54.6}, orb.Point{-3.6, 55.4}, 99689.0},
	} {
		if got := routing.GreatCircle(c.a, c.b); math.Abs(got/c.metres-1) > 0.006 {
			t.Errorf("%s: %.1f m, geodesic %.1f m", c.name, got, c.metres)
		}
	}
}

// Measured on road extracts of flat country by class of great-circle length:
// 1.56 (1-5 km), 1.35 (5-15), 1.24 (15-40), 1.17 (over 40).
func TestDetourFactorByClass(t *testing.T) {
	for _, c := range []struct{ from, to, factor float64 }{
		{1000, 5000, 1.56}, {5000, 15000, 1.35}, {15000, 40000, 1.24}, {40000, 160000, 1.17},
	} {
		middle := math.Sqrt(c.from * c.to)
		if got := routing.DetourFactor(middle); math.Abs(got-c.factor) > 0.001 {
			t.Errorf("at %.0f m: %.3f, measured %.2f", middle, got, c.factor)
		}
	}
}

// Wang et al., npj Complexity 1:22 (2024): about 1.3 ± 0.1 over all.
func TestDetourFactorOnAverage(t *testing.T) {
	var sum float64
	for km := 1; km <= 60; km++ {
		sum += routing.DetourFactor(float64(km) * 1000)
	}
	if mean := sum / 60; mean < 1.2 || mean > 1.4 {
		t.Errorf("mean %.3f", mean)
	}
}

func TestFurtherIsNeverNearer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-60, 60).Draw(t, "lat")
		near := rapid.Float64Range(0, 2).Draw(t, "near")
		far := near + rapid.Float64Range(0, 1).Draw(t, "more")
		p := rapid.SampledFrom([]routing.Profile{routing.Towing, routing.Solo}).Draw(t, "profile")
		a, b := routing.Estimate(orb.Point{0, lat}, orb.Point{near, lat}, p), routing.Estimate(orb.Point{0, lat}, orb.Point{far, lat}, p)
		if b.Metres < a.Metres || b.Seconds < a.Seconds {
			t.Fatalf("%v degrees: %+v, %v degrees: %+v", near, a, far, b)
		}
	})
}

func TestEstimatesAreMarkedAndSymmetric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		point := func(name string) orb.Point {
			return orb.Point{rapid.Float64Range(-180, 180).Draw(t, name+" lon"), rapid.Float64Range(-90, 90).Draw(t, name+" lat")}
		}
		places := []routing.Place{{ID: "a", At: point("a")}, {ID: "b", At: point("b")}}
		tow, err := routing.Estimator{}.Table(context.Background(), places, routing.Towing)
		if err != nil {
			t.Fatal(err)
		}
		solo, _ := routing.Estimator{}.Table(context.Background(), places, routing.Solo)
		ab, ba := tow.At(0, 1), tow.At(1, 0)
		if ab != ba || !ab.Estimate || !ab.Reachable {
			t.Fatalf("there %+v, back %+v", ab, ba)
		}
		if s := solo.At(0, 1); s.Seconds > ab.Seconds || s.Metres != ab.Metres {
			t.Fatalf("solo %+v, towing %+v", s, ab)
		}
	})
}

func TestEstimatorRefusesPlacesOffEarth(t *testing.T) {
	for _, at := range []orb.Point{{0, 91}, {181, 0}, {math.NaN(), 0}} {
		if _, err := (routing.Estimator{}).Table(context.Background(), []routing.Place{{ID: "x", At: at}}, routing.Solo); err == nil {
			t.Errorf("%v was accepted", at)
		}
	}
}

func TestEstimatorStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := (routing.Estimator{}).Table(ctx, []routing.Place{{ID: "x"}}, routing.Solo); err == nil {
		t.Error("a cancelled table came back whole")
	}
}
