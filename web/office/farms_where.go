package office

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"strconv"

	"drawbar/routing/road/tile"
	"drawbar/web/view"

	"github.com/paulmach/orb"
)

// where shows a gate on the roads, and which of them it is reached from.
type where struct {
	Moves                    []move
	Picture                  template.HTML
	West, East, North, South float64 // edges of the picture, degrees
	Reached                  string
	Problem                  string // why drives there are only estimated
}

// move is a button that moves the mark, or looks where it is.
type move struct {
	Do, Words   string
	east, north float64 // metres
}

var moves = []move{
	{"look", "Show on the map", 0, 0},
	{"north", "25 m north", 0, 25}, {"south", "25 m south", 0, -25}, {"east", "25 m east", 25, 0}, {"west", "25 m west", -25, 0},
}

// degree of latitude in metres, on a sphere of the mean Earth radius 6371008.8 m.
const degree = 6371008.8 * math.Pi / 180

// nudge moves what was typed as the position.
func nudge(f *view.Form, do string) {
	at, ok := typedPosition(f)
	for _, m := range moves {
		if ok && m.Do == do && m.east+m.north != 0 {
			lat := min(90, max(-90, at.Lat()+m.north/degree))
			lon := at.Lon() + m.east/degree/max(0.01, math.Cos(at.Lat()*math.Pi/180))
			f.Set("lat", strconv.FormatFloat(lat, 'f', 6, 64))
			f.Set("lon", strconv.FormatFloat(min(180, max(-180, lon)), 'f', 6, 64))
		}
	}
}

// typedPosition is the position, where it can be read; what is wrong with it is
// told on saving.
func typedPosition(f *view.Form) (at orb.Point, ok bool) {
	trial := view.NewForm("lat", f.Typed("lat"), "lon", f.Typed("lon"))
	at = positionOf(trial)
	return at, trial.OK() && math.Abs(at.Lat()) <= 90 && math.Abs(at.Lon()) <= 180
}

// around is how much the picture shows on each side of the gate and its road,
// in degrees of latitude: some 300 m.
const around = 0.003

func (o *office) where(f *view.Form) where {
	at, ok := typedPosition(f)
	site, roads := o.Atlas.Reached(at)
	if !ok || !roads {
		return where{}
	}
	p := tile.Picture{Width: 640, Height: 400, Label: "The gate on the roads around it", Box: at.Bound(), Marks: []tile.Mark{{At: at, Label: "Gate"}}}
	if site.Found {
		p.Box = p.Box.Extend(site.At)
		p.Lines = []tile.Line{{Points: orb.LineString{at, site.At}, Solo: true, Title: "From the road to the gate"}}
	}
	p.Box = p.Box.Pad(around)
	w := where{Moves: moves, Picture: o.Atlas.Picture(p), Problem: site.Problem}
	shown := o.Atlas.Shown(p)
	w.West, w.East, w.North, w.South = shown.Left(), shown.Right(), shown.Top(), shown.Bottom()
	if site.Found {
		w.Reached = fmt.Sprintf("Reached from %s, %.0f m from the gate.", cmp.Or(site.Road, "a road without a name"), float64(site.Gap)/10)
	}
	return w
}
