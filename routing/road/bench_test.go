//go:build !race

package road_test

import (
	"bytes"
	"context"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"drawbar/routing/road"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/roadfile"
	"drawbar/routing/road/roadtest"
)

func delaware(b *testing.B) *road.Map {
	b.Helper()
	roads, _ := roadtest.Delaware.Roads(b)
	return road.New(roads)
}

var train = drive.Vehicle{Towing: true, Kg: 3500, Length: 1100, Width: 250, Height: 280}

// BenchmarkTable makes 1000 × 1000 and 200 × 200 tables of Delaware, and runs
// plain Dijkstra on the same graph for some of the rows, scaled to all: x-plain
// is how many times longer that takes.
func BenchmarkTable(b *testing.B) {
	m := delaware(b)
	for _, n := range []int{200, 1000} {
		sites := randomSites(m, n, 5)
		if _, err := m.Costs(context.Background(), sites, train); err != nil {
			b.Fatal(err)
		}
		b.Run(map[int]string{200: "200", 1000: "1000"}[n], func(b *testing.B) {
			for b.Loop() {
				if _, err := m.Costs(context.Background(), sites, train); err != nil {
					b.Fatal(err)
				}
			}
			mine := b.Elapsed() / time.Duration(b.N)
			b.StopTimer()
			const rows = 10
			start := time.Now()
			if _, err := m.Dijkstra(context.Background(), sites[:rows], sites, train); err != nil {
				b.Fatal(err)
			}
			plain := time.Since(start) * time.Duration(n) / rows
			b.ReportMetric(float64(plain)/float64(mine), "x-plain")
			b.ReportMetric(plain.Seconds(), "plain-s")
		})
	}
}

func BenchmarkPair(b *testing.B) {
	m := delaware(b)
	sites := randomSites(m, 1000, 6)
	m.Cost(&sites[0], &sites[1], train)
	for i := 0; b.Loop(); i++ {
		m.Cost(&sites[i%1000], &sites[(i*7+1)%1000], train)
	}
}

func BenchmarkPath(b *testing.B) {
	m := delaware(b)
	sites := randomSites(m, 1000, 7)
	m.Cost(&sites[0], &sites[1], train)
	for i := 0; b.Loop(); i++ {
		_, _ = m.Path(&sites[i%1000], &sites[(i*7+1)%1000], train)
	}
}

func BenchmarkSnap(b *testing.B) {
	m := delaware(b)
	sites := randomSites(m, 1000, 8)
	for i := 0; b.Loop(); i++ {
		m.Snap(sites[i%1000].Place)
	}
}

// BenchmarkOpen reads a road file of Delaware from memory: parse, turn graph,
// hierarchy.
func BenchmarkOpen(b *testing.B) {
	roads, _ := roadtest.Delaware.Roads(b)
	var file bytes.Buffer
	if err := roadfile.Write(&file, roads); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(file.Len())/1e6, "MB")
	for b.Loop() {
		if _, err := road.Open(file.Bytes()); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkNewVehicle weighs the hierarchy for a vehicle that may go where no
// other has.
var sitesAt = orb.Point{-75.5, 39.1}

func BenchmarkNewVehicle(b *testing.B) {
	roads, _ := roadtest.Delaware.Roads(b)
	b.StopTimer()
	for i := 0; i < b.N; i++ {
		m := road.New(roads)
		s := m.Snap(sitesAt)
		b.StartTimer()
		m.Cost(&s, &s, train)
		b.StopTimer()
	}
}
