package extract_test

import (
	"context"
	"math"
	"os"
	"testing"

	"github.com/paulmach/osm"
	"github.com/paulmach/osm/osmpbf"

	"drawbar/routing/road/roadtest"
)

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
