package roadmap

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html/template"

	"drawbar/routing"
	"drawbar/routing/road"
	"drawbar/routing/road/tile"

	"github.com/paulmach/orb"
)

// How many drawings are kept: a picture is some 100 kB, a tile some 15.
const (
	picturesKept = 64
	tilesKept    = 1000
)

// Atlas draws. It is safe for concurrent use.
type Atlas struct {
	roads    *road.Map
	version  string // of the road file
	pictures kept[template.HTML]
	tiles    kept[[]byte]
}

// New makes an atlas of imported roads, nil for none.
func New(roads *road.Map) *Atlas {
	a := &Atlas{roads: roads, pictures: kept[template.HTML]{most: picturesKept}, tiles: kept[[]byte]{most: tilesKept}}
	if roads != nil {
		info := roads.Info()
		sum := sha256.Sum256(fmt.Appendf(nil, "%v %v %v", info, roads.Bound(), tile.MaxZoom))
		a.version = hex.EncodeToString(sum[:8])
	}
	return a
}

// Credit is the line that the data's licence asks for, "" without roads.
func (a *Atlas) Credit() string {
	if a.roads == nil {
		return ""
	}
	return a.roads.Info().Source
}

// Tiles is the address of the tiles with {z}, {x} and {y} to fill in, ""
// without roads.
func (a *Atlas) Tiles() string {
	if a.roads == nil {
		return ""
	}
	return "/roads/" + a.version + "/{z}/{x}/{y}"
}

// Picture draws an SVG.
func (a *Atlas) Picture(p tile.Picture) template.HTML {
	sum := sha256.Sum256(fmt.Appendf(nil, "%#v", p))
	return a.pictures.get(string(sum[:]), func() template.HTML {
		return template.HTML(p.SVG(a.roads)) // text in it is escaped
	})
}

// Shown is the part of the world that a picture shows, in degrees.
func (a *Atlas) Shown(p tile.Picture) orb.Bound { return p.Shown(a.roads) }

// Reached is where a place meets the roads; false without roads.
func (a *Atlas) Reached(at orb.Point) (road.Site, bool) {
	if a.roads == nil {
		return road.Site{}, false
	}
	return a.roads.Snap(at), true
}

// Drive is the way of a rig from one place to another. Without roads, and where
// they do not lead there, it is the straight line and ok is false.
func (a *Atlas) Drive(rig routing.Rig, p routing.Profile, from, to orb.Point) (path *road.Path, ok bool) {
	if a.roads != nil {
		start, end := a.roads.Snap(from), a.roads.Snap(to)
		if path, err := a.roads.Path(&start, &end, road.VehicleOf(rig, p)); err == nil {
			return path, true
		}
	}
	return &road.Path{Leg: routing.Estimate(from, to, p), Line: orb.LineString{from, to}}, false
}
