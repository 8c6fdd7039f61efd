package tile_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/maptile"
	"pgregory.net/rapid"

	"drawbar/booking/fault"
	"drawbar/routing/road"
	"drawbar/routing/road/roadtest"
	"drawbar/routing/road/tile"
)

const town = `
n 1 0 0
n 2 3000 0
n 3 3000 2000
n 4 0 2000
n 5 1500 0
n 6 1500 900
w 1 1,5,2 highway=primary name=Drovers~Way
w 2 2,3 highway=tertiary name=Smith~&~Daughter~<Lane>
w 3 3,4,1 highway=tertiary
w 4 5,6 highway=service service=driveway`

func at(x, y float64) orb.Point {
	return orb.Point{roadtest.OriginLon + x*roadtest.DegreesEast, roadtest.OriginLat + y*roadtest.DegreesUp}
}

// tileOf is the tile of a point.
func tileOf(p orb.Point, z int) (x, y int) {
	t := maptile.At(p, maptile.Zoom(z))
	return int(t.X), int(t.Y)
}

// read decodes a tile, its positions back in degrees.
func read(t *testing.T, m *road.Map, z int, p orb.Point) map[string][]orb.Geometry {
	t.Helper()
	x, y := tileOf(p, z)
	data, err := tile.Vector(m, z, x, y)
	if err != nil {
		t.Fatal(err)
	}
	layers, err := mvt.Unmarshal(data)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string][]orb.Geometry{}
	for _, l := range layers {
		if l.Name != "roads" || l.Extent != 4096 {
			t.Errorf("layer %s of extent %d", l.Name, l.Extent)
		}
		l.ProjectToWGS84(maptile.New(uint32(x), uint32(y), maptile.Zoom(z)))
		for _, f := range l.Features {
			found[f.Properties.MustString("class")] = append(found[f.Properties.MustString("class")], f.Geometry)
		}
	}
	return found
}

func TestSmallRoadsAppearAsOneZoomsIn(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	for z, want := range map[int]string{7: "", 8: "primary", 9: "primary", 10: "primary tertiary", 14: "primary", 15: "driveway primary"} {
		found := read(t, m, z, at(1500, 10))
		var got []string
		for _, class := range []string{"driveway", "primary", "tertiary"} {
			if len(found[class]) > 0 {
				got = append(got, class)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("zoom %d shows %v, want %q", z, got, want)
		}
	}
}

func TestRoadsLieWhereTheyAre(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	for _, g := range read(t, m, 14, at(700, 0))["primary"] {
		for _, p := range g.Bound().ToRing() {
			// A pixel of 1/4096 tile at zoom 14 and 51° N is 0.4 m.
			if math.Abs(p.Lat()-51) > 2*roadtest.DegreesUp {
				t.Errorf("the main road at %v", p)
			}
		}
	}
}

func TestTilesOutsideTheWorldAreNotFound(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	for _, c := range [][3]int{{-1, 0, 0}, {0, 1, 0}, {3, 8, 0}, {3, 0, -1}, {tile.MaxZoom + 1, 0, 0}} {
		if _, err := tile.Vector(m, c[0], c[1], c[2]); !fault.Is(err, fault.NotFound) {
			t.Errorf("%v: %v", c, err)
		}
	}
	if data, err := tile.Vector(m, 10, 0, 0); err != nil || len(data) != 0 {
		t.Errorf("an empty tile has %d bytes, error %v", len(data), err)
	}
}

func TestSameTileSameBytes(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	x, y := tileOf(at(1500, 0), 12)
	a, _ := tile.Vector(m, 12, x, y)
	b, _ := tile.Vector(m, 12, x, y)
	if len(a) == 0 || !bytes.Equal(a, b) {
		t.Errorf("%d and %d bytes", len(a), len(b))
	}
}

// checkSVG reads a picture as XML and refuses what a strict content security
// policy would.
func checkSVG(t interface{ Fatalf(string, ...any) }, svg []byte) {
	d := xml.NewDecoder(bytes.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Fatalf("not XML: %v\n%s", err, svg)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range start.Attr {
			if n := a.Name.Local; n == "style" || strings.HasPrefix(n, "on") || start.Name.Local == "script" || strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
				t.Fatalf("<%s %s=%q>", start.Name.Local, n, a.Value)
			}
		}
	}
}

func TestPictureShowsRoundsAndYards(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	svg := tile.Picture{
		Label: "Rounds of Monday",
		Lines: []tile.Line{{Points: orb.LineString{at(0, 0), at(3000, 0)}, Title: "Rig North to Tull & Sons"}, {Points: orb.LineString{at(3000, 0), at(3000, 2000)}, Style: 1, Solo: true}},
		Marks: []tile.Mark{{At: at(0, 0), Home: true, Label: "home yard"}, {At: at(3000, 2000), Label: `Smith's <"Fold">`}},
	}.SVG(m)
	checkSVG(t, svg)
	for _, want := range []string{`aria-label="Rounds of Monday"`, "map-primary", "map-tertiary", "stroke-dasharray", "Tull &amp; Sons", "home yard", "<rect", "© OpenStreetMap contributors", "Smith&#39;s &lt;"} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("the picture lacks %q", want)
		}
	}
}

func TestPictureOfAnything(t *testing.T) {
	m := road.New(roadtest.Town(t, town))
	rapid.Check(t, func(t *rapid.T) {
		point := rapid.Custom(func(t *rapid.T) orb.Point {
			return orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")}
		})
		p := tile.Picture{
			Width: rapid.IntRange(-1, 2000).Draw(t, "width"), Height: rapid.IntRange(0, 2000).Draw(t, "height"),
			Lines: []tile.Line{{Points: rapid.SliceOf(point).Draw(t, "line"), Title: rapid.String().Draw(t, "title")}},
		}
		for range rapid.IntRange(0, 3).Draw(t, "marks") {
			p.Marks = append(p.Marks, tile.Mark{At: point.Draw(t, "at"), Label: rapid.String().Draw(t, "label")})
		}
		checkSVG(t, p.SVG(m))
	})
}

func TestScaleOfThePicture(t *testing.T) {
	// The main road is 3000 m of a box 3000 m wide, so it spans the picture;
	// web mercator stretches both ways alike, so 2000 m north are two thirds of it.
	m := road.New(roadtest.Town(t, town))
	svg := string(tile.Picture{Box: orb.Bound{Min: at(0, 0), Max: at(3000, 2000)}, Width: 900, Height: 600, Marks: []tile.Mark{{At: at(0, 0)}, {At: at(3000, 2000)}}}.SVG(m))
	var x0, y0, x1, y1 float64
	circles := strings.SplitAfter(svg, "<circle ")
	fmt.Sscanf(circles[1], `cx="%f" cy="%f"`, &x0, &y0)
	fmt.Sscanf(circles[2], `cx="%f" cy="%f"`, &x1, &y1)
	if math.Abs(x1-x0-900) > 2 || math.Abs(y0-y1-600) > 2 {
		t.Errorf("the box spans %.1f by %.1f of 900 by 600", x1-x0, y0-y1)
	}
}

func ExamplePicture_SVG() {
	m := road.New(roadtest.Town(&testing.T{}, town))
	svg := tile.Picture{Label: "Roads about the yard", Width: 300, Height: 200}.SVG(m)
	fmt.Println(strings.HasPrefix(string(svg), "<svg "), strings.HasSuffix(string(svg), "</svg>"))
	// Output: true true
}

func BenchmarkVector(b *testing.B) {
	roads, _ := roadtest.Delaware.Roads(b)
	m := road.New(roads)
	for _, z := range []int{8, 11, 14} {
		x, y := tileOf(orb.Point{-75.52, 39.16}, z)
		b.Run(fmt.Sprintf("zoom %d", z), func(b *testing.B) {
			size := 0
			for b.Loop() {
				data, err := tile.Vector(m, z, x, y)
				if err != nil {
					b.Fatal(err)
				}
				size = len(data)
			}
			b.ReportMetric(float64(size)/1e3, "kB")
		})
	}
}

func BenchmarkPicture(b *testing.B) {
	roads, _ := roadtest.Delaware.Roads(b)
	m := road.New(roads)
	size := 0
	for b.Loop() {
		size = len(tile.Picture{}.SVG(m))
	}
	b.ReportMetric(float64(size)/1e3, "kB")
}
