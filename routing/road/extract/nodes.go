package extract

import (
	"context"
	"math"
	"slices"

	"github.com/paulmach/osm"

	"drawbar/routing/road/network"
)

// indexNodes lists the nodes of all roads and counts the road ends that meet
// at each.
func (im *importer) indexNodes() {
	im.ids = slices.Clone(im.refs)
	slices.Sort(im.ids)
	im.ids = slices.Clip(slices.Compact(im.ids))
	n := len(im.ids)
	im.uses, im.place, im.known, im.vertex = make([]uint8, n), make([]network.Point, n), make([]bool, n), make([]int32, n)
	for i := range im.vertex {
		im.vertex[i] = -1
	}
	for _, w := range im.ways {
		refs := im.refs[w.from:w.to]
		for i, id := range refs {
			ends := uint8(2)
			if i == 0 || i == len(refs)-1 {
				ends = 1
			}
			node := im.node(id)
			im.uses[node] += min(ends, math.MaxUint8-im.uses[node])
		}
	}
}

// node is the place of an id in the list, -1 if no road uses it.
func (im *importer) node(id int64) int32 {
	i, found := slices.BinarySearch(im.ids, id)
	if !found {
		return -1
	}
	return int32(i)
}

// readNodes finds where the nodes are and what stands there.
func (im *importer) readNodes(ctx context.Context) error {
	used := func(n *osm.Node) bool { return im.node(int64(n.ID)) >= 0 }
	return im.read(ctx, "nodes", wanted{node: used}, im.keepNode, nil)
}

func (im *importer) keepNode(n *osm.Node) {
	node := im.node(int64(n.ID))
	im.place[node] = network.Point{Lat: int32(math.Round(n.Lat * 1e6)), Lon: int32(math.Round(n.Lon * 1e6))}
	im.known[node] = math.Abs(n.Lat) <= 90 && math.Abs(n.Lon) <= 180
	if o, ok := objectOf(n.Tags); ok {
		im.objects[node] = o
	}
}
