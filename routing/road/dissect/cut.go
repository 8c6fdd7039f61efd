package dissect

import "slices"

// cutter cuts cells of the network, each a set of edges, down to nothing.
type cutter struct {
	points []Point
	edges  []Edge
	local  []int32 // vertex → its number inside the current cell, -1 outside
	out    []int32
}

func newCutter(points []Point, edges []Edge) *cutter {
	c := &cutter{points: points, edges: edges, local: make([]int32, len(points))}
	for i := range c.local {
		c.local[i] = -1
	}
	return c
}

func (c *cutter) order() []int32 {
	all := make([]int32, len(c.edges))
	for i := range all {
		all[i] = int32(i)
	}
	c.cell(all)
	return c.out
}

// cell orders its edges: those of both sides, then those cut.
func (c *cutter) cell(edges []int32) {
	if len(edges) <= 2 {
		c.out = append(c.out, edges...)
		return
	}
	n := c.network(edges)
	sides := n.components()
	if sides == nil {
		sides = n.cut()
	}
	parts, between := split(edges, n, sides)
	for _, part := range parts {
		c.cell(part)
	}
	c.out = append(c.out, between...)
}

// split sorts edges by the side both their ends are on.
func split(edges []int32, n *network, side []int32) (parts [][]int32, between []int32) {
	parts = make([][]int32, slices.Max(side)+1)
	for i, e := range edges {
		a, b := side[n.ends[i].A], side[n.ends[i].B]
		if a == b {
			parts[a] = append(parts[a], e)
		} else {
			between = append(between, e)
		}
	}
	return parts, between
}

// network is one cell with its own small numbers for vertices and edges.
type network struct {
	points []Point
	ends   []Edge
	start  []int32 // arms of vertex v are arm[start[v]:start[v+1]]
	arm    []int32 // 2×edge, +1 when it leads from B to A
}

// head is where an arm leads.
func (n *network) head(arm int32) int32 {
	if e := n.ends[arm>>1]; arm&1 == 0 {
		return e.B
	}
	return n.ends[arm>>1].A
}

func (c *cutter) network(edges []int32) *network {
	n := &network{ends: make([]Edge, len(edges))}
	var vertices []int32
	number := func(v int32) int32 {
		if c.local[v] < 0 {
			c.local[v] = int32(len(vertices))
			vertices = append(vertices, v)
			n.points = append(n.points, c.points[v])
		}
		return c.local[v]
	}
	for i, e := range edges {
		n.ends[i] = Edge{number(c.edges[e].A), number(c.edges[e].B)}
	}
	for _, v := range vertices {
		c.local[v] = -1
	}
	n.index()
	return n
}

func (n *network) index() {
	n.start = make([]int32, len(n.points)+1)
	for _, e := range n.ends {
		n.start[e.A+1]++
		n.start[e.B+1]++
	}
	for v := range n.points {
		n.start[v+1] += n.start[v]
	}
	n.arm = make([]int32, 2*len(n.ends))
	next := slices.Clone(n.start)
	for i, e := range n.ends {
		n.arm[next[e.A]] = int32(2 * i)
		next[e.A]++
		n.arm[next[e.B]] = int32(2*i + 1)
		next[e.B]++
	}
}

// components numbers the connected parts, or gives nil when there is only one.
func (n *network) components() []int32 {
	part, count := make([]int32, len(n.points)), int32(0)
	for v := range part {
		part[v] = -1
	}
	var stack []int32
	for v := range part {
		if part[v] >= 0 {
			continue
		}
		part[v] = count
		for stack = append(stack, int32(v)); len(stack) > 0; {
			x := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, arm := range n.arm[n.start[x]:n.start[x+1]] {
				if y := n.head(arm); part[y] < 0 {
					part[y] = count
					stack = append(stack, y)
				}
			}
		}
		count++
	}
	if count == 1 {
		return nil
	}
	return part
}
