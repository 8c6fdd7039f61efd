//go:build !race

package extract_test

import (
	"bytes"
	"context"
	"math"
	"os"
	"testing"

	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"

	"drawbar/booking/fault"
	"drawbar/routing/road/extract"
	"drawbar/routing/road/network"
	"drawbar/routing/road/roadtest"
)

// TestDelawareAgainstItsOwnGeometry adds up the roads of the extract without
// the importer: the network must be as long as the ways are.
func TestDelawareAgainstItsOwnGeometry(t *testing.T) {
	r, report := roadtest.Delaware.Roads(t)
	var sum, shapes float64
	for i := range r.Edges {
		sum += float64(r.Edges[i].Length)
		shapes += network.Length(r.Line(int32(2*i), nil))
	}
	if math.Abs(sum-shapes) > 1e-4*sum {
		t.Errorf("edges say %.0f km, their lines %.0f", sum/1e4, shapes/1e4)
	}
	want := waysKilometres(t)
	if got := sum / 1e4; math.Abs(got-want) > 1e-3*want {
		t.Errorf("network of %.1f km from ways of %.1f km", got, want)
	}
	if report.Missing > report.Ways/100 || report.Unclear > 60 || report.Bans < 400 {
		t.Errorf("report %+v", report)
	}
}

func TestDelawareCutShortIsRefused(t *testing.T) {
	data, err := os.ReadFile(roadtest.Delaware.Path(t))
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = extract.Import(context.Background(), bytes.NewReader(data[:len(data)*2/3]), extract.Options{Format: extract.PBF})
	if !fault.Is(err, fault.Invalid) {
		t.Errorf("error %v", err)
	}
}

// waysKilometres adds up the great-circle length of all ways of Delaware that
// the importer says it keeps by class: highways for cars, read here with the
// osm module alone and judged by a plain list.
func waysKilometres(t *testing.T) (sum float64) {
	t.Helper()
	f, err := os.Open(roadtest.Delaware.Path(t))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	at := map[osm.NodeID][2]float64{}
	s := osmpbf.New(context.Background(), f, 1)
	defer s.Close()
	for s.Scan() {
		switch o := s.Object().(type) {
		case *osm.Node:
			at[o.ID] = [2]float64{o.Lat, o.Lon}
		case *osm.Way:
			if !plainCarRoad(o.Tags) {
				continue
			}
			for i := 1; i < len(o.Nodes); i++ {
				sum += haversine(at[o.Nodes[i-1].ID], at[o.Nodes[i].ID])
			}
		}
	}
	if s.Err() != nil {
		t.Fatal(s.Err())
	}
	return sum
}

func plainCarRoad(tags osm.Tags) bool {
	letIn := map[string]bool{"yes": true, "private": true, "permissive": true, "designated": true, "destination": true, "agricultural": true, "customers": true, "official": true}
	said := ""
	for _, key := range []string{"motorcar", "motor_vehicle", "vehicle", "access"} {
		if v := tags.Find(key); said == "" && (letIn[v] || v == "no") {
			said = v
		}
	}
	if said == "no" || tags.Find("area") == "yes" || tags.Find("service") == "emergency_access" {
		return false
	}
	if tags.Find("route") == "ferry" {
		return letIn[tags.Find("motorcar")] || letIn[tags.Find("motor_vehicle")]
	}
	switch tags.Find("highway") {
	case "motorway", "motorway_link", "trunk", "trunk_link", "primary", "primary_link", "secondary", "secondary_link", "tertiary", "tertiary_link",
		"unclassified", "residential", "living_street", "service", "track", "road":
		return true
	case "path", "bridleway", "cycleway", "footway", "pedestrian", "busway":
		return letIn[tags.Find("motorcar")] || letIn[tags.Find("motor_vehicle")]
	}
	return false
}

func haversine(a, b [2]float64) float64 {
	const rad = math.Pi / 180
	x := math.Sin((b[0] - a[0]) * rad / 2)
	y := math.Sin((b[1] - a[1]) * rad / 2)
	return 2 * 6371.0088 * math.Asin(math.Sqrt(x*x+math.Cos(a[0]*rad)*math.Cos(b[0]*rad)*y*y))
}
