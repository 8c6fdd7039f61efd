package extract

import (
	"cmp"
	"context"
	"slices"

	"drawbar/routing/road/network"
)

// layout numbers vertices and edges so that neighbours have close numbers:
// the file gets small and searches stay in the cache.
func (im *importer) layout(context.Context) error {
	r := im.roads
	vertexOrder := indexes(len(r.Vertices))
	slices.SortStableFunc(vertexOrder, func(a, b int32) int { return cmp.Compare(zOrder(r.Vertices[a]), zOrder(r.Vertices[b])) })
	vertexAt := inverse(vertexOrder)
	for i := range r.Edges {
		r.Edges[i].From, r.Edges[i].To = vertexAt[r.Edges[i].From], vertexAt[r.Edges[i].To]
	}
	r.Vertices, r.At = permuted(r.Vertices, vertexOrder), permuted(r.At, vertexOrder)

	edgeOrder := indexes(len(r.Edges))
	slices.SortStableFunc(edgeOrder, func(a, b int32) int {
		x, y := r.Edges[a], r.Edges[b]
		return cmp.Or(cmp.Compare(x.From, y.From), cmp.Compare(x.To, y.To))
	})
	im.moveEdges(edgeOrder)
	return nil
}

func (im *importer) moveEdges(order []int32) {
	r := im.roads
	shapes, ends := make([]network.Point, 0, len(r.Shapes)), make([]uint32, 0, len(order))
	for _, e := range order {
		shapes = append(shapes, r.Shape(e)...)
		ends = append(ends, uint32(len(shapes)))
	}
	at := inverse(order)
	for _, b := range r.Bans {
		for i, arc := range b.Arcs {
			b.Arcs[i] = at[arc>>1]<<1 | arc&1
		}
	}
	r.Edges, r.Shapes, r.ShapeEnd = permuted(r.Edges, order), shapes, ends
}

func indexes(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i)
	}
	return list
}

func inverse(order []int32) []int32 {
	at := make([]int32, len(order))
	for i, x := range order {
		at[x] = int32(i)
	}
	return at
}

func permuted[T any](list []T, order []int32) []T {
	out := make([]T, len(order))
	for i, x := range order {
		out[i] = list[x]
	}
	return out
}

// zOrder interleaves the bits of a position (Morton 1966).
func zOrder(p network.Point) uint64 {
	return spread(uint32(p.Lat)+1<<31)<<1 | spread(uint32(p.Lon)+1<<31)
}

func spread(v uint32) uint64 {
	x := uint64(v)
	for _, s := range []struct {
		by   uint
		mask uint64
	}{{16, 0x0000FFFF0000FFFF}, {8, 0x00FF00FF00FF00FF}, {4, 0x0F0F0F0F0F0F0F0F}, {2, 0x3333333333333333}, {1, 0x5555555555555555}} {
		x = (x | x<<s.by) & s.mask
	}
	return x
}
