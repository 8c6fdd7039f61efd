package tile

import (
	"cmp"
	"fmt"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
	"github.com/paulmach/orb/simplify"

	"drawbar/booking/fault"
	"drawbar/routing/road"
	"drawbar/routing/road/network"
)

// MaxZoom is the deepest zoom tiles are made for; a map enlarges them beyond.
const MaxZoom = 15

// from is the zoom from which roads of a class are drawn.
var from = [network.Classes]int{
	network.Motorway: 0, network.Trunk: 0, network.Primary: 8, network.Secondary: 9, network.Tertiary: 10, network.Ferry: 9,
	network.Unclassified: 12, network.Residential: 13, network.LivingStreet: 13, network.Service: 14, network.Track: 13, network.Driveway: 15,
}

// margin is how far beyond its edge a tile is drawn, in parts of its side, so
// that lines join up.
const margin = 1.0 / 64

// tolerance is how far simplified lines may stray, in 1/4096 of a tile.
const tolerance = 4

// Vector makes the vector tile at column x and row y of zoom z. A tile without
// roads is empty, and no error; one outside the world is a fault of kind
// NotFound.
func Vector(m *road.Map, z, x, y int) ([]byte, error) {
	if z < 0 || z > MaxZoom || x < 0 || y < 0 || x >= 1<<z || y >= 1<<z {
		return nil, fault.Newf(fault.NotFound, "There is no map tile %d/%d/%d.", z, x, y)
	}
	t := maptile.New(uint32(x), uint32(y), maptile.Zoom(z))
	fc := geojson.NewFeatureCollection()
	for _, l := range lines(m, t.Bound(margin), z) {
		f := geojson.NewFeature(l.lines)
		f.Properties["class"] = l.class.String()
		if l.name != "" {
			f.Properties["name"] = l.name
		}
		fc.Append(f)
	}
	layers := mvt.Layers{mvt.NewLayer("roads", fc)}
	layers.ProjectToTile(t)
	layers.Clip(orb.Bound{Min: orb.Point{-margin * 4096, -margin * 4096}, Max: orb.Point{4096 * (1 + margin), 4096 * (1 + margin)}})
	layers.Simplify(simplify.DouglasPeucker(tolerance))
	layers.RemoveEmpty(1, 1)
	if len(layers[0].Features) == 0 {
		return nil, nil
	}
	data, err := mvt.Marshal(layers)
	if err != nil {
		return nil, fmt.Errorf("tile: %d/%d/%d: %w", z, x, y, err)
	}
	return data, nil
}

// group is all pieces of one road in a box.
type group struct {
	class network.Class
	name  string
	lines orb.MultiLineString
}

// lines gathers the roads in a box that show at a zoom, the least important
// first, so that the others lie on top.
func lines(m *road.Map, box orb.Bound, zoom int) []group {
	r := m.Roads()
	type key struct {
		class network.Class
		name  int32
	}
	at := map[key]int{}
	var groups []group
	m.Within(box, func(edge int32) {
		e := &r.Edges[edge]
		k := key{r.Kinds[e.Kind].Class, e.Name}
		if zoom < from[k.class] {
			return
		}
		i, ok := at[k]
		if !ok {
			i = len(groups)
			at[k] = i
			groups = append(groups, group{class: k.class, name: r.Names[e.Name]})
		}
		groups[i].lines = append(groups[i].lines, line(r, edge))
	})
	slices.SortStableFunc(groups, func(a, b group) int {
		return cmp.Or(cmp.Compare(b.class, a.class), cmp.Compare(a.name, b.name))
	})
	return groups
}

func line(r *network.Roads, edge int32) orb.LineString {
	points := r.Line(2*edge, nil)
	out := make(orb.LineString, len(points))
	for i, p := range points {
		out[i] = orb.Point{float64(p.Lon) / 1e6, float64(p.Lat) / 1e6}
	}
	return out
}
