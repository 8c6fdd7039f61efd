package extract

import (
	"context"
	"math"

	"drawbar/routing/road/network"
)

// cutWays makes vertices and edges of the ways.
func (im *importer) cutWays(ctx context.Context) error {
	for _, r := range im.rules {
		for _, id := range r.ways() {
			im.pieces[id] = nil
		}
	}
	c := &cutter{importer: im, lowest: im.lowestArms(), linked: map[int32]bool{}}
	for i := range im.ways {
		if i&1023 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		im.report("cutting", int64(i), int64(len(im.ways)))
		c.way(&im.ways[i])
	}
	im.refs, im.ways = nil, nil
	im.found.Vertices, im.found.Edges = len(im.roads.Vertices), len(im.roads.Edges)
	return nil
}

// lowestArms is the least important class of the roads that meet at each
// barrier: a gate at a junction belongs to the farm road, not to the highway.
func (im *importer) lowestArms() map[int32]network.Class {
	lowest := map[int32]network.Class{}
	for _, w := range im.ways {
		for _, id := range im.refs[w.from:w.to] {
			node := im.node(id)
			if im.objects[node].barrier {
				lowest[node] = max(lowest[node], w.kind.Class)
			}
		}
	}
	return lowest
}

// cutter cuts one way after the other.
type cutter struct {
	*importer
	lowest map[int32]network.Class
	linked map[int32]bool // barriers between two arms that have their edge

	now   *way
	start int32           // vertex the piece begins at, -1 before the first
	inner []network.Point // points of the piece after start
	delay [2]uint16
}

// way cuts one way where roads meet or barriers stand, and where the file
// lacks a node.
func (c *cutter) way(w *way) {
	refs := c.refs[w.from:w.to]
	c.now, c.start = w, -1
	if w.kind.Class == network.Ferry {
		c.ferry(w, refs)
	}
	for i, id := range refs {
		node := c.node(id)
		if !c.known[node] || i > 0 && c.leaps(refs[i-1], node) {
			c.found.Missing++
			c.finishShort(i, refs)
			c.start = -1
			continue
		}
		end := i == 0 || i == len(refs)-1
		switch {
		case c.start < 0:
			c.start, c.inner, c.delay = c.leave(node, c.vertexOf(node)), c.inner[:0], [2]uint16{}
		case end || c.uses[node] > 2 || c.objects[node].barrier:
			c.piece(node, i == len(refs)-1)
		default:
			c.pass(node)
		}
	}
}

// leap is farther than any two nodes of a road or ferry are apart, in
// decimetres: one of them has a wrong position.
const leap = 1000_000_0

func (c *cutter) leaps(before int64, node int32) bool {
	last := c.node(before)
	return c.known[last] && network.Distance(c.place[last], c.place[node]) > leap
}

// finishShort ends a piece at the last node the file has.
func (c *cutter) finishShort(i int, refs []int64) {
	if c.start < 0 || len(c.inner) == 0 {
		return
	}
	last := c.node(refs[i-1])
	c.inner = c.inner[:len(c.inner)-1]
	c.edge(c.start, c.vertexOf(last), c.now.kind)
}

// pass goes over a node between two ends of a piece.
func (c *cutter) pass(node int32) {
	c.inner = append(c.inner, c.place[node])
	o := c.objects[node]
	c.delay[0], c.delay[1] = c.delay[0]+o.delay[0], c.delay[1]+o.delay[1]
}

// piece ends a piece at a node and begins the next.
func (c *cutter) piece(node int32, last bool) {
	centre := c.vertexOf(node)
	c.edge(c.start, c.arrive(node, centre), c.now.kind)
	if !last {
		c.start, c.inner, c.delay = c.leave(node, centre), c.inner[:0], [2]uint16{}
	}
}

// vertexOf makes a node a vertex.
func (c *cutter) vertexOf(node int32) int32 {
	if c.vertex[node] < 0 {
		c.vertex[node] = c.newVertex(node, c.objects[node].flags)
	}
	return c.vertex[node]
}

func (c *cutter) newVertex(node int32, flags network.VertexFlags) int32 {
	c.roads.Vertices = append(c.roads.Vertices, c.place[node])
	c.roads.At = append(c.roads.At, flags)
	return int32(len(c.roads.Vertices) - 1)
}

// arrive gives the vertex at which the road reaches a node: its own, with a
// link on to the node's, when a barrier stands between.
func (c *cutter) arrive(node, centre int32) int32 {
	if !c.barred(node) {
		return centre
	}
	arm := c.newVertex(node, 0)
	defer c.link(node, arm, centre)
	return arm
}

func (c *cutter) leave(node, centre int32) int32 {
	if !c.barred(node) {
		return centre
	}
	arm := c.newVertex(node, 0)
	c.link(node, centre, arm)
	return arm
}

// barred tells whether a barrier at the node stands across this arm.
func (c *cutter) barred(node int32) bool {
	if o := c.objects[node]; !o.barrier || c.uses[node] < 2 {
		return false
	}
	if c.uses[node] == 2 {
		first := !c.linked[node]
		c.linked[node] = true
		return first
	}
	return c.now.kind.Class == c.lowest[node]
}

// link adds the edge of no length that a barrier is.
func (c *cutter) link(node, from, to int32) {
	o := c.objects[node]
	c.add(network.Edge{From: from, To: to, Kind: c.kind(o.on(c.now.kind)), Name: c.now.name}, nil)
}

// edge adds a piece of road.
func (c *cutter) edge(from, to int32, kind network.Kind) {
	for d := range kind.Delay {
		kind.Delay[d] += c.delay[d]
	}
	line := append([]network.Point{c.roads.Vertices[from]}, c.inner...)
	line = append(line, c.roads.Vertices[to])
	e := network.Edge{From: from, To: to, Kind: c.kind(kind), Name: c.now.name, Length: int32(min(math.MaxInt32, math.Round(network.Length(line))))}
	c.add(e, c.inner)
	c.now.kind.Delay = [2]uint16{} // boarding a ferry is waited for once
}

func (c *cutter) add(e network.Edge, shape []network.Point) {
	if _, named := c.pieces[c.now.id]; named {
		c.pieces[c.now.id] = append(c.pieces[c.now.id], int32(len(c.roads.Edges)))
	}
	c.roads.Edges = append(c.roads.Edges, e)
	c.roads.Shapes = append(c.roads.Shapes, shape...)
	c.roads.ShapeEnd = append(c.roads.ShapeEnd, uint32(len(c.roads.Shapes)))
}

// boarding is how long a ferry is waited for and boarded, in seconds. Common
// practice, no source.
const boarding = 1200

// ferry works out a ferry's speed from its duration.
func (c *cutter) ferry(w *way, refs []int64) {
	var line []network.Point
	for _, id := range refs {
		if node := c.node(id); c.known[node] {
			line = append(line, c.place[node])
		}
	}
	w.kind.Delay = [2]uint16{boarding, boarding}
	if w.minutes > 0 {
		kmh := network.Length(line) / 1e4 / (w.minutes / 60)
		speed := uint16(min(max(1, math.Round(kmh)), 100))
		w.kind.Limit = [2]uint16{speed, speed}
	}
}
