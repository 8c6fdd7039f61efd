package tile

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/clip"
	"github.com/paulmach/orb/simplify"

	"drawbar/routing/road"
	"drawbar/routing/road/network"
)

// Picture is a map to be drawn as SVG.
type Picture struct {
	Box           orb.Bound // what to show; zero fits the lines and marks, or else all roads
	Width, Height int       // units of the picture; 0 is 640 by 480
	Label         string    // what the picture shows, for those who cannot see it
	Lines         []Line
	Marks         []Mark
}

// Line is a way driven.
type Line struct {
	Points orb.LineString
	Style  int    // of its rig, see Dash
	Solo   bool   // without the trailer: drawn thin
	Title  string // said on hover and read aloud
}

// Mark is a place.
type Mark struct {
	At    orb.Point
	Home  bool   // a rig's home: a square; other places are round
	Label string // written beside it
	Title string
}

// smallest is the least a fitted picture shows, in degrees, about a kilometre.
const smallest = 0.01

// SVG draws the picture over the roads of a map; without a map it has no roads
// and no credit line.
func (p Picture) SVG(m *road.Map) []byte {
	d := p.framed(m)
	fmt.Fprintf(&d.out, `<svg xmlns="http://www.w3.org/2000/svg" class="map" viewBox="0 0 %d %d" role="img" aria-label="%s">`, d.Width, d.Height, escape(cmp.Or(p.Label, "Map")))
	if m != nil {
		d.roads(m)
	}
	for _, l := range p.Lines {
		d.line(l)
	}
	for _, k := range p.Marks {
		d.mark(k)
	}
	if m != nil {
		fmt.Fprintf(&d.out, `<text class="map-credit" x="%d" y="%d" text-anchor="end" font-size="10" fill="currentColor">%s</text>`, d.Width-4, d.Height-4, escape(m.Info().Source))
	}
	d.out.WriteString("</svg>")
	return d.out.Bytes()
}

// Shown is the part of the world that the picture shows, in degrees.
func (p Picture) Shown(m *road.Map) orb.Bound {
	d := p.framed(m)
	return d.shown()
}

func (p Picture) framed(m *road.Map) *drawing {
	d := &drawing{Picture: p}
	d.Width, d.Height = cmp.Or(max(0, d.Width), 640), cmp.Or(max(0, d.Height), 480)
	d.frame(m)
	return d
}

// drawing is a picture being drawn.
type drawing struct {
	Picture
	out       bytes.Buffer
	west, top float64 // of the frame, in mercator units of the world's width
	scale     float64 // picture units to one of them
	labels    []orb.Bound
}

// mercator projects onto a square of side 1 (EPSG:3857, scaled).
func mercator(p orb.Point) (x, y float64) {
	lat := max(-85.0511, min(85.0511, p.Lat())) * math.Pi / 180
	return (p.Lon() + 180) / 360, (1 - math.Log(math.Tan(lat)+1/math.Cos(lat))/math.Pi) / 2
}

// frame chooses what the picture shows, in the middle of it.
func (d *drawing) frame(m *road.Map) {
	box := d.Box
	if box == (orb.Bound{}) {
		box = d.around(m)
	}
	x0, y1 := mercator(box.Min)
	x1, y0 := mercator(box.Max)
	wide, high := max(x1-x0, 1e-9), max(y1-y0, 1e-9)
	d.scale = min(float64(d.Width)/wide, float64(d.Height)/high)
	d.west = (x0+x1)/2 - float64(d.Width)/d.scale/2
	d.top = (y0+y1)/2 - float64(d.Height)/d.scale/2
}

// around fits lines and marks with some room.
func (d *drawing) around(m *road.Map) orb.Bound {
	var points orb.MultiPoint
	for _, l := range d.Lines {
		points = append(points, l.Points...)
	}
	for _, k := range d.Marks {
		points = append(points, k.At)
	}
	if len(points) == 0 && m != nil {
		return m.Bound()
	}
	if len(points) == 0 {
		return orb.Bound{Min: orb.Point{-180, -85}, Max: orb.Point{180, 85}}
	}
	box := points.Bound()
	room := max(smallest, box.Max[0]-box.Min[0], box.Max[1]-box.Min[1]) / 8
	return box.Pad(room)
}

// at projects a position into the picture.
func (d *drawing) at(p orb.Point) orb.Point {
	x, y := mercator(p)
	return orb.Point{(x - d.west) * d.scale, (y - d.top) * d.scale}
}

// shown is the box the picture shows, in degrees.
func (d *drawing) shown() orb.Bound {
	corner := func(x, y float64) orb.Point {
		return orb.Point{x*360 - 180, math.Atan(math.Sinh(math.Pi*(1-2*y))) * 180 / math.Pi}
	}
	right, bottom := d.west+float64(d.Width)/d.scale, d.top+float64(d.Height)/d.scale
	return orb.MultiPoint{corner(d.west, d.top), corner(right, bottom)}.Bound()
}

// widths are the strokes of the classes.
var widths = [network.Classes]float64{
	network.Motorway: 3, network.Trunk: 3, network.Primary: 2.4, network.Secondary: 1.8, network.Tertiary: 1.4,
	network.Unclassified: 1, network.Residential: 0.8, network.LivingStreet: 0.8, network.Service: 0.6, network.Driveway: 0.4, network.Track: 0.6, network.Ferry: 1,
}

// roads draws one path a class. The zoom is that at which a tile of 512 units
// has the picture's scale.
func (d *drawing) roads(m *road.Map) {
	zoom := int(math.Round(math.Log2(max(1, d.scale/512))))
	groups := lines(m, d.shown(), zoom)
	for i := 0; i < len(groups); {
		class := groups[i].class
		var path strings.Builder
		for ; i < len(groups) && groups[i].class == class; i++ {
			for _, l := range groups[i].lines {
				d.trace(&path, l)
			}
		}
		if path.Len() > 0 {
			fmt.Fprintf(&d.out, `<path class="map-road map-%s" d="%s" fill="none" stroke="currentColor" stroke-opacity=".3" stroke-width="%g"/>`, class, path.String(), widths[class])
		}
	}
}

// trace appends a line to path data: projected, cut to the picture, with no
// more points than can be seen.
func (d *drawing) trace(path *strings.Builder, l orb.LineString) {
	flat := make(orb.LineString, len(l))
	for i, p := range l {
		flat[i] = d.at(p)
	}
	frame := orb.Bound{Min: orb.Point{-5, -5}, Max: orb.Point{float64(d.Width) + 5, float64(d.Height) + 5}}
	for _, piece := range clip.LineString(frame, flat) {
		piece = simplify.DouglasPeucker(0.4).LineString(piece)
		for i, p := range piece {
			letter := "L"
			if i == 0 {
				letter = "M"
			}
			fmt.Fprintf(path, "%s%.1f %.1f", letter, p[0], p[1])
		}
	}
}

func (d *drawing) line(l Line) {
	var path strings.Builder
	d.trace(&path, l.Points)
	if path.Len() == 0 {
		return
	}
	class, width := fmt.Sprintf("map-drive map-rig-%d", Style(l.Style)), Width(l.Style, l.Solo)
	if l.Solo {
		class += " map-solo"
	}
	fmt.Fprintf(&d.out, `<path class="%s" d="%s" fill="none" stroke="currentColor" stroke-width="%g"%s>%s</path>`, class, path.String(), width, dashArray(l.Style, width), title(l.Title))
}

func (d *drawing) mark(k Mark) {
	p := d.at(k.At)
	class, shape := "map-yard", fmt.Sprintf(`<circle cx="%.1f" cy="%.1f" r="6"/>`, p[0], p[1])
	if k.Home {
		class, shape = "map-home", fmt.Sprintf(`<rect x="%.1f" y="%.1f" width="12" height="12"/>`, p[0]-6, p[1]-6)
	}
	fmt.Fprintf(&d.out, `<g class="%s" fill="currentColor">%s%s`, class, title(cmp.Or(k.Title, k.Label)), shape)
	d.label(p, k.Label)
	d.out.WriteString("</g>")
}

// About how much a label takes up: a letter's width and a line's height.
const letter, row = 6.6, 12

// label writes a name to the right of a point or to the left, wherever no other
// is; where both are taken it is left to the title.
func (d *drawing) label(p orb.Point, text string) {
	if text == "" {
		return
	}
	long := letter * float64(utf8.RuneCountInString(text))
	for _, side := range []struct {
		x, from float64
		anchor  string
	}{{p[0] + 9, p[0] + 9, "start"}, {p[0] - 9, p[0] - 9 - long, "end"}} {
		box := orb.Bound{Min: orb.Point{side.from, p[1] - row/2}, Max: orb.Point{side.from + long, p[1] + row/2}}
		if d.taken(box) {
			continue
		}
		d.labels = append(d.labels, box)
		fmt.Fprintf(&d.out, `<text x="%.1f" y="%.1f" font-size="11" text-anchor="%s">%s</text>`, side.x, p[1]+4, side.anchor, escape(text))
		return
	}
}

// taken tells whether a box lies on another label or beyond the picture's side.
func (d *drawing) taken(box orb.Bound) bool {
	return box.Min[0] < 0 || box.Max[0] > float64(d.Width) || slices.ContainsFunc(d.labels, box.Intersects)
}

func title(s string) string {
	if s == "" {
		return ""
	}
	return "<title>" + escape(s) + "</title>"
}

func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
