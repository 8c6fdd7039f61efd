package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"drawbar/booking/fault"
	"drawbar/routing"

	"github.com/paulmach/orb"
)

// The demo drives on roads: between two yards in the middle of Delaware a
// drive is longer than the straight line, is no estimate, and names its
// source.
func TestDemoDrivesOnRoads(t *testing.T) {
	roads, err := Config{Roads: demoRoads}.roadMap()
	if err != nil {
		t.Fatal(err)
	}
	a, b := orb.Point{-75.6034, 38.9289}, orb.Point{-75.5742, 39.0938}
	table, err := roadsOf(roads).For(routing.Rig{}).Table(t.Context(), []routing.Place{{ID: "a", At: a}, {ID: "b", At: b}}, routing.Towing)
	if err != nil {
		t.Fatal(err)
	}
	leg, air := table.At(0, 1), routing.GreatCircle(a, b)
	if leg.Estimate || !leg.Reachable || float64(leg.Metres) < air || float64(leg.Metres) > 2*air {
		t.Errorf("%+v over %.0f m as the crow flies", leg, air)
	}
	if credit := roads.Info().Source; credit != "© OpenStreetMap contributors" { // as the ODbL and the OSMF's attribution guideline ask
		t.Errorf("credit %q", credit)
	}
}

func TestWithoutRoadsDrivesAreEstimates(t *testing.T) {
	roads, err := Config{}.roadMap()
	if _, ok := roadsOf(roads).(routing.Estimator); !ok || err != nil {
		t.Errorf("%T, %v", roadsOf(roads), err)
	}
}

func TestRoadFilesThatCannotBeUsed(t *testing.T) {
	folder := t.TempDir()
	broken := filepath.Join(folder, "broken.road")
	if err := os.WriteFile(broken, []byte("not a road file"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{filepath.Join(folder, "none.road"), broken, folder} {
		if _, err := (Config{Roads: name}).roadMap(); !fault.Is(err, fault.Invalid) || !strings.Contains(fault.Sentence(err), "drawbar roads import") {
			t.Errorf("%s gives %v", name, err)
		}
	}
}

const village = `<osm version="0.6">
<node id="1" lat="38.90" lon="-75.60"/><node id="2" lat="38.91" lon="-75.60"/>
<way id="7"><nd ref="1"/><nd ref="2"/><tag k="highway" v="tertiary"/><tag k="name" v="Mill Lane"/></way>
</osm>`

func TestRoadsImport(t *testing.T) {
	folder := t.TempDir()
	extract := filepath.Join(folder, "village.osm")
	if err := os.WriteFile(extract, []byte(village), 0o600); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := run(t.Context(), []string{"roads", "import", extract}, streams{nil, &out, &bytes.Buffer{}}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "1 roads") {
		t.Errorf("the import says %q", out.String())
	}
	if _, err := (Config{Roads: filepath.Join(folder, "village.road")}).roadMap(); err != nil {
		t.Errorf("the file it made: %v", err)
	}
	for _, name := range []string{"village.zip", filepath.Join(folder, "none.osm"), filepath.Join(folder, "none.osm.pbf")} {
		if err := run(t.Context(), []string{"roads", "import", name}, streams{nil, &out, &bytes.Buffer{}}); !fault.Is(err, fault.Invalid) {
			t.Errorf("importing %s gives %v", name, err)
		}
	}
}
