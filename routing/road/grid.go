package road

import (
	"math"
	"slices"

	"drawbar/routing/road/network"
)

// cell is the least side of a grid cell in millionths of a degree, some 450 m.
const cell = 4000

// grid finds edges near a point. Edge lists of all cells lie one after the
// other, cell (0,0) first, row by row.
type grid struct {
	cell          int32
	west, south   int32
	east, north   int32
	width, height int
	start         []int32
	edge          []int32
}

func newGrid(r *network.Roads) *grid {
	g := &grid{}
	g.fit(r)
	g.start = make([]int32, g.width*g.height+1)
	g.walk(r, func(c int, _ int32) { g.start[c+1]++ })
	for c := range g.width * g.height {
		g.start[c+1] += g.start[c]
	}
	g.edge = make([]int32, g.start[len(g.start)-1])
	next := append([]int32(nil), g.start...)
	g.walk(r, func(c int, e int32) {
		g.edge[next[c]] = e
		next[c]++
	})
	return g
}

func (g *grid) fit(r *network.Roads) {
	west, south, east, north := int32(math.MaxInt32), int32(math.MaxInt32), int32(math.MinInt32), int32(math.MinInt32)
	for _, list := range [][]network.Point{r.Vertices, r.Shapes} {
		for _, p := range list {
			west, east = min(west, p.Lon), max(east, p.Lon)
			south, north = min(south, p.Lat), max(north, p.Lat)
		}
	}
	if west > east {
		return
	}
	g.west, g.south, g.east, g.north = west, south, east, north
	g.cell = cell
	most := 20*len(r.Edges) + 1000 // cells; a map of few roads far apart gets larger ones
	for g.size(); g.width*g.height > most; g.size() {
		g.cell *= 2
	}
}

func (g *grid) size() {
	g.width, g.height = int((g.east-g.west)/g.cell)+1, int((g.north-g.south)/g.cell)+1
}

// walk calls visit for every cell an edge may cross, each at most once.
func (g *grid) walk(r *network.Roads, visit func(c int, edge int32)) {
	var line []network.Point
	var seen []int
	for e := range r.Edges {
		if r.Edges[e].Length == 0 {
			continue
		}
		line, seen = r.Line(int32(2*e), line[:0]), seen[:0]
		for i := 1; i < len(line); i++ {
			seen = g.cells(line[i-1], line[i], seen)
		}
		slices.Sort(seen)
		for _, c := range slices.Compact(seen) {
			visit(c, int32(e))
		}
	}
}

// cells appends the cells of the box around a segment.
func (g *grid) cells(a, b network.Point, list []int) []int {
	x0, y0 := g.at(network.Point{Lat: min(a.Lat, b.Lat), Lon: min(a.Lon, b.Lon)})
	x1, y1 := g.at(network.Point{Lat: max(a.Lat, b.Lat), Lon: max(a.Lon, b.Lon)})
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			list = append(list, y*g.width+x)
		}
	}
	return list
}

func (g *grid) at(p network.Point) (x, y int) {
	return int(math.Floor(float64(p.Lon-g.west) / float64(g.cell))), int(math.Floor(float64(p.Lat-g.south) / float64(g.cell)))
}

// ring lists the edges of the cells at a distance of k cells from p's.
func (g *grid) ring(p network.Point, k int, list []int32) []int32 {
	cx, cy := g.at(p)
	for y := max(0, cy-k); y <= min(g.height-1, cy+k); y++ {
		step := 1
		if y != cy-k && y != cy+k && k > 0 {
			step = 2 * k // only the two ends of the row
		}
		for x := cx - k; x <= cx+k; x += step {
			if x >= 0 && x < g.width {
				c := y*g.width + x
				list = append(list, g.edge[g.start[c]:g.start[c+1]]...)
			}
		}
	}
	return list
}
