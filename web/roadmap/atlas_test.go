package roadmap_test

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/roadtest"
	"drawbar/routing/road/tile"
	"drawbar/web/roadmap"

	"github.com/gin-gonic/gin"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/maptile"
)

const town = `
n 1 0 0
n 2 3000 0
n 3 3000 2000
w 1 1,2 highway=primary name=Drovers~Way
w 2 2,3 highway=tertiary name=Mill~Lane maxweight=3`

func at(x, y float64) orb.Point {
	return orb.Point{roadtest.OriginLon + x*roadtest.DegreesEast, roadtest.OriginLat + y*roadtest.DegreesUp}
}

func atlas(t *testing.T) *roadmap.Atlas { return roadmap.New(road.New(roadtest.Town(t, town))) }

func get(a *roadmap.Atlas, path string) *httptest.ResponseRecorder {
	gin.SetMode(gin.ReleaseMode)
	engine := gin.New()
	a.Mount(engine)
	w := httptest.NewRecorder()
	engine.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w
}

// address fills a tile's place into the atlas's own address.
func address(a *roadmap.Atlas, z, x, y any) string {
	return strings.NewReplacer("{z}", fmt.Sprint(z), "{x}", fmt.Sprint(x), "{y}", fmt.Sprint(y)).Replace(a.Tiles())
}

// The media type is IANA's for vector tiles; the tile is read back by orb.
func TestTilesAreServedAndKept(t *testing.T) {
	a := atlas(t)
	in := maptile.At(at(1500, 0), 13)
	w := get(a, address(a, 13, in.X, in.Y))
	if w.Code != http.StatusOK || w.Header().Get("Content-Type") != "application/vnd.mapbox-vector-tile" {
		t.Fatalf("%d, %q", w.Code, w.Header().Get("Content-Type"))
	}
	if got := w.Header().Get("Cache-Control"); !strings.Contains(got, "private") || !strings.Contains(got, "immutable") {
		t.Errorf("cached as %q", got)
	}
	layers, err := mvt.Unmarshal(w.Body.Bytes())
	if err != nil || len(layers) != 1 || len(layers[0].Features) == 0 {
		t.Errorf("%v, %v", layers, err)
	}
	if again := get(a, address(a, 13, in.X, in.Y)); !bytes.Equal(again.Body.Bytes(), w.Body.Bytes()) {
		t.Error("the kept tile differs")
	}
	old := get(a, fmt.Sprintf("/roads/0123/13/%d/%d", in.X, in.Y))
	if old.Code != http.StatusOK || old.Header().Get("Cache-Control") != "no-store" {
		t.Errorf("an address of another road file: %d, %q", old.Code, old.Header().Get("Cache-Control"))
	}
}

func TestTilesWithoutRoadsOnThem(t *testing.T) {
	a := atlas(t)
	if w := get(a, address(a, 13, 0, 0)); w.Code != http.StatusNoContent {
		t.Errorf("an empty tile answers %d", w.Code)
	}
	for _, odd := range [][3]any{{"x", 0, 0}, {-1, 0, 0}, {3, 8, 0}, {tile.MaxZoom + 1, 0, 0}, {3, "07", 0}, {"99999999999999999999", 0, 0}} {
		if w := get(a, address(a, odd[0], odd[1], odd[2])); w.Code != http.StatusNotFound {
			t.Errorf("%v answers %d", odd, w.Code)
		}
	}
	none := roadmap.New(nil)
	if w := get(none, "/roads/x/0/0/0"); w.Code != http.StatusNotFound || none.Tiles() != "" || none.Credit() != "" {
		t.Errorf("without roads: %d, %q, %q", w.Code, none.Tiles(), none.Credit())
	}
}

func TestAnotherRoadFileHasOtherAddresses(t *testing.T) {
	other := roadmap.New(road.New(roadtest.Town(t, town+"\nn 4 0 2000\nw 3 3,4 highway=tertiary")))
	if a := atlas(t); a.Tiles() == other.Tiles() || a.Tiles() != atlas(t).Tiles() {
		t.Errorf("%s and %s", a.Tiles(), other.Tiles())
	}
}

func TestDrivesFollowTheRoads(t *testing.T) {
	a, from, to := atlas(t), at(100, 0), at(3000, 1900)
	path, ok := a.Drive(routing.Rig{}, routing.Towing, from, to)
	if !ok || len(path.Line) < 3 || len(path.Steps) != 2 || path.Steps[0].Road != "Drovers Way" {
		t.Errorf("%v, %+v", ok, path)
	}
	heavy, ok := a.Drive(routing.Rig{Train: routing.Size{Kg: 3500}}, routing.Towing, from, to)
	if ok || len(heavy.Line) != 2 || !heavy.Estimate {
		t.Errorf("the heavy rig: %v, %+v", ok, heavy)
	}
	if none, ok := roadmap.New(nil).Drive(routing.Rig{}, routing.Solo, from, to); ok || len(none.Line) != 2 {
		t.Errorf("without roads: %v, %+v", ok, none)
	}
}

func TestPicturesAreCredited(t *testing.T) {
	p := tile.Picture{Lines: []tile.Line{{Points: orb.LineString{at(0, 0), at(3000, 0)}, Title: "<b>"}}}
	if svg := string(atlas(t).Picture(p)); !strings.Contains(svg, "© OpenStreetMap contributors") || strings.Contains(svg, "<b>") {
		t.Error(svg)
	}
}

func Example() {
	a := roadmap.New(nil)
	fmt.Println(strings.HasPrefix(string(a.Picture(tile.Picture{Label: "Nothing yet"})), "<svg"), a.Tiles() == "")
	// Output: true true
}
