package search

// Group is what rigs with one home and the same times share, on days with the
// same crew.
type Group struct {
	Drives   *Drives
	Home     int32   // its point in Drives
	PerMetre int64   // ticks
	SetUp    []int32 // by point; homes need none
	Pack     []int32
	Out      []Edge // solo from home to the visit's place
	Back     []Edge // and back
	Work     []int32
	Spread   []int64 // square of what the 90 % time adds
	in, out  []int32 // the shortest edges to and from a visit
}

// Edge is from work done to work begun in seconds and ticks: pack-down,
// wash-down, drive, set-up.
type Edge struct {
	Dur   int32
	Money int64
}

// Drives is a table of drives between points: the visits, then homes. Groups
// share it, and both directions lie side by side, so that what is needed to
// try a visit at many places stays in the nearest cache.
type Drives struct {
	points int
	legs   []bothWays
}

type bothWays struct{ there, back Leg }

// Leg is a drive with the wash-down before it. It knows nothing of setting up.
type Leg struct {
	Dur    int32
	Metres int32
}

// Here stands for the metres of a leg between visits at one place: nothing is
// packed down or set up between them.
const Here = -1

// NewDrives is a table of so many points.
func NewDrives(points int) *Drives {
	return &Drives{points: points, legs: make([]bothWays, points*points)}
}

// Points is the number of points.
func (t *Drives) Points() int { return t.points }

// Set fills in one leg.
func (t *Drives) Set(from, to int, l Leg) {
	t.legs[from*t.points+to].there = l
	t.legs[to*t.points+from].back = l
}

// Edge is the way from the work at one point to that at another.
func (g *Group) Edge(from, to int32) Edge {
	return g.edge(&g.Drives.legs[int(from)*g.Drives.points+int(to)].there, from, to)
}

// into is the same Edge, from the row of to: a visit is tried after many
// others.
func (g *Group) into(from, to int32) Edge {
	return g.edge(&g.Drives.legs[int(to)*g.Drives.points+int(from)].back, from, to)
}

func (g *Group) edge(l *Leg, from, to int32) Edge {
	if l.Metres < 0 {
		return Edge{Dur: l.Dur}
	}
	return Edge{g.Pack[from] + l.Dur + g.SetUp[to], int64(l.Metres) * g.PerMetre}
}

// min are the lesser times of two groups of one rig, and its shortest edges.
func (g *Group) min(other *Group) *Group {
	out := *g
	out.Work, out.in, out.out = lesser(g.Work, other.Work), lesser(g.in, other.in), lesser(g.out, other.out)
	return &out
}

// lesser has the lesser of two numbers at each place.
func lesser(a, b []int32) []int32 {
	out := make([]int32, len(a))
	for i := range out {
		out[i] = min(a[i], b[i])
	}
	return out
}

// prepare notes the shortest edges.
func (g *Group) prepare() {
	n := len(g.Work)
	g.in, g.out = make([]int32, n), make([]int32, n)
	for v := range g.in {
		g.in[v], g.out[v] = far, far
		for u := range n + 1 {
			at := int32(u)
			if u == n {
				at = g.Home
			}
			if u != v {
				g.in[v] = min(g.in[v], g.into(at, int32(v)).Dur)
				g.out[v] = min(g.out[v], g.Edge(int32(v), at).Dur)
			}
		}
	}
}
