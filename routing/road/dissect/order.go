package dissect

// Edge joins two vertices.
type Edge struct{ A, B int32 }

// Point is where a vertex lies, in any flat projection.
type Point struct{ X, Y float64 }

// Order gives every edge's index once, first to be contracted first. Edges
// must have ends in [0,len(points)); loops and parallel edges are fine.
func Order(points []Point, edges []Edge) []int32 {
	p := peel(len(points), edges)
	core := p.core()
	c := newCutter(points, core.edges)
	order := append([]int32(nil), p.first...)
	for _, i := range c.order() {
		order = append(order, core.index[i])
	}
	return order
}
