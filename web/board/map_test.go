package board_test

import (
	"encoding/json"
	"net/http"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/web/sitetest"

	"github.com/paulmach/orb/geojson"
)

// Without imported roads the map has straight lines and says so.
func TestMapWithoutRoads(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	placed(s, b)
	c := s.As(booking.Owner)
	a := c.Get(weekPath(b) + "/map")
	for _, words := range []string{"home → " + s.Farm.Name, s.Farm.Name + " → home", "estimate", "Straight lines are drives for which no roads are known.", s.Rig.Name} {
		if !a.Says(words) {
			t.Errorf("the map does not say %q", words)
		}
	}
	if a.Says("OpenStreetMap") {
		t.Error("roads are credited that are not there")
	}
	if board := c.Get(weekPath(b)); !board.Says("Larger map, and the drives in words") {
		t.Error("the board has no map")
	}
}

func TestMapOfOneDay(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	placed(s, b)
	c, day := s.As(booking.Office), b.Windows[0].From
	if a := c.Get(weekPath(b) + "/map?day=" + day.String()); a.Status != http.StatusOK || !a.Says("home → "+s.Farm.Name) {
		t.Errorf("its own day answers %d", a.Status)
	}
	other := day.AddDays(1)
	if day.Weekday() == time.Sunday { // the week ends with it
		other = day.AddDays(-1)
	}
	if a := c.Get(weekPath(b) + "/map?day=" + other.String()); a.Status != http.StatusOK || !a.Says("No drives on this day yet.") {
		t.Errorf("another day answers %d", a.Status)
	}
	for _, odd := range []string{"nonsense", day.AddDays(14).String(), "2026-02-30"} {
		if a := c.Get(weekPath(b) + "/map?day=" + odd); a.Status != http.StatusNotFound {
			t.Errorf("%s answers %d", odd, a.Status)
		}
	}
}

// The data has the same drives and places as the picture, as GeoJSON (RFC
// 7946): home and the farm, and one line for the way there and back.
func TestMapData(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	placed(s, b)
	a := s.As(booking.Owner).Get(weekPath(b) + "/map.json")
	var data struct {
		Tiles   string
		Strokes []struct{ Dash []float64 }
		Drives  *geojson.FeatureCollection
		Places  *geojson.FeatureCollection
	}
	if err := json.Unmarshal([]byte(a.Body), &data); err != nil {
		t.Fatal(err)
	}
	if len(data.Drives.Features) != 1 || len(data.Places.Features) != 2 || data.Tiles != "" || len(data.Strokes) < 2 {
		t.Errorf("%+v", data)
	}
	if label := data.Places.Features[1].Properties.MustString("label"); label != s.Farm.Name {
		t.Errorf("the yard is called %q", label)
	}
}

func TestMapIsNotForOperators(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	for _, path := range []string{weekPath(b) + "/map", weekPath(b) + "/map.json", "/roads/x/1/0/0"} {
		if a := s.As(booking.Operator).Get(path); a.Status != http.StatusForbidden {
			t.Errorf("%s answers an operator %d", path, a.Status)
		}
	}
}
