package board

import (
	"cmp"
	"net/http"
	"slices"
	"strings"
	"time"

	"drawbar/booking/say"
	"drawbar/routing/road"
	"drawbar/routing/road/tile"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
)

// Clock is when the drive begins: "7:24".
func (d chartDrive) Clock() string { return say.Minute(d.Leg.From) }

// Takes is how long the drive is: "25 min".
func (d chartDrive) Takes() string {
	return say.Length(time.Duration(d.Seconds) * time.Second)
}

// Km is its distance, whole.
func (d chartDrive) Km() string { return view.Number((d.Metres + 500) / 1000) }

// Guess tells whether the numbers are estimated, not driven on roads.
func (d chartDrive) Guess() bool { return d.Leg.Estimate || d.Straight }

// most roads and cautions that a drive is described by.
const mostRoads = 3

// By names the longest roads in the order they are driven: "Mill Lane, US 13".
func (d chartDrive) By() string {
	longest := slices.DeleteFunc(slices.Clone(d.Path.Steps), func(s road.Step) bool { return s.Road == "" })
	slices.SortStableFunc(longest, func(a, b road.Step) int { return cmp.Compare(b.Metres, a.Metres) })
	longest = longest[:min(len(longest), mostRoads)]
	var names []string
	for _, s := range d.Path.Steps {
		if slices.Contains(longest, s) && !slices.Contains(names, s.Road) {
			names = append(names, s.Road)
		}
	}
	return strings.Join(names, ", ")
}

// Cautions are what a driver should know beforehand, each once.
func (d chartDrive) Cautions() []string {
	var all []string
	for _, c := range d.Path.Cautions {
		text := c.Sentence
		if c.Road != "" {
			text = c.Road + ": " + text
		}
		if !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}

// title is said of its line.
func (d chartDrive) title() string {
	with := ""
	if d.Solo {
		with = ", without the rig"
	}
	return d.Rig + ", " + d.From + " to " + d.To + with
}

// stretch is a piece of road between two points as a rig drives it, either way.
type stretch struct {
	style int
	solo  bool
	ends  [2]orb.Point
}

func stretchOf(d chartDrive, a, b orb.Point) stretch {
	if a[0] > b[0] || a[0] == b[0] && a[1] > b[1] {
		a, b = b, a
	}
	return stretch{d.Style, d.Solo, [2]orb.Point{a, b}}
}

// lines are the drives, the widest first. Each stretch of road is drawn once a
// rig, or the dashes of there and back would fill each other's gaps.
func (c chart) lines() []tile.Line {
	var all []tile.Line
	seen := map[stretch]bool{}
	for _, d := range c.drives() {
		for _, run := range d.unseen(seen) {
			all = append(all, tile.Line{Points: run, Style: d.Style, Solo: d.Solo, Title: d.title()})
		}
	}
	slices.SortStableFunc(all, func(a, b tile.Line) int { return cmp.Compare(b.Style, a.Style) })
	return all
}

// unseen are the runs of a drive along stretches that were not seen before.
func (d chartDrive) unseen(seen map[stretch]bool) []orb.LineString {
	var runs []orb.LineString
	going := false
	for i := 1; i < len(d.Path.Line); i++ {
		a, b := d.Path.Line[i-1], d.Path.Line[i]
		s := stretchOf(d, a, b)
		switch {
		case seen[s]:
			going = false
		case going:
			runs[len(runs)-1] = append(runs[len(runs)-1], b)
		default:
			runs, going = append(runs, orb.LineString{a, b}), true
		}
		seen[s] = true
	}
	return runs
}

// marks are home and the yards that are driven to.
func (c chart) marks(at places) []tile.Mark {
	all := []tile.Mark{{At: at.home, Home: true, Label: "home"}}
	seen := map[string]bool{}
	for _, d := range c.drives() {
		for _, id := range []string{d.Start, d.End} {
			if id == "home" || seen[id] {
				continue
			}
			seen[id] = true
			all = append(all, tile.Mark{At: at.at(id), Label: at.name(id)})
		}
	}
	return all
}

// strokes is a rig's line style for a browser that draws itself.
type strokes struct {
	Style int       `json:"style"`
	Dash  []float64 `json:"dash"` // in line widths, empty for a solid line
	Width float64   `json:"width"`
	Alone float64   `json:"alone"` // width without the trailer
}

// drawing is what a browser needs to draw the map.
type drawing struct {
	Tiles   string                     `json:"tiles"`
	Deepest int                        `json:"deepest"` // zoom that tiles are made for
	Credit  string                     `json:"credit"`
	Bounds  [4]float64                 `json:"bounds"` // west, south, east, north
	Strokes []strokes                  `json:"strokes"`
	Drives  *geojson.FeatureCollection `json:"drives"`
	Places  *geojson.FeatureCollection `json:"places"`
}

func (b *board) mapData(c *gin.Context) error {
	week, page, err := b.drawn(c)
	if err != nil {
		return err
	}
	at, err := b.places(c.Request.Context(), week.Business.Home)
	if err != nil {
		return err
	}
	c.Header("Cache-Control", "no-store")
	c.JSON(http.StatusOK, page.drawing(at))
	return nil
}

func (c chart) drawing(at places) drawing {
	d := drawing{
		Tiles: c.Tiles, Deepest: tile.MaxZoom, Credit: c.Credit,
		Drives: geojson.NewFeatureCollection(), Places: geojson.NewFeatureCollection(),
	}
	for s := tile.Styles - 1; s >= 0; s-- { // the widest lie below
		d.Strokes = append(d.Strokes, strokes{s, append([]float64{}, tile.Dash(s)...), tile.Width(s, false), tile.Width(s, true)})
	}
	bound := at.home.Bound()
	for _, l := range c.lines() {
		f := geojson.NewFeature(l.Points)
		f.Properties = geojson.Properties{"style": tile.Style(l.Style), "solo": l.Solo, "title": l.Title}
		d.Drives.Append(f)
		bound = bound.Union(l.Points.Bound())
	}
	for _, m := range c.marks(at) {
		f := geojson.NewFeature(m.At)
		f.Properties = geojson.Properties{"home": m.Home, "label": m.Label}
		d.Places.Append(f)
		bound = bound.Extend(m.At)
	}
	d.Bounds = [4]float64{bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1]}
	return d
}
