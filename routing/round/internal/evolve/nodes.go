package evolve

import (
	"slices"

	"drawbar/routing/round/internal/search"
)

// node is a visit as it stands on routes of one kind: a run of itself.
type node struct {
	run
	choice int32 // of the visit, -1 when it may not go there
}

// world is a model seen as routes.
type world struct {
	m      *search.Model
	n      int
	routes []routeOf
	nodes  [][]node // by kind, then visit; the last is home
	near   [][]int32
}

// drives are the edges of a group in a square, home last.
type drives struct {
	dur   []int32
	money []int64
}

// drives are those of every group.
func (w *world) drives() []drives {
	out := make([]drives, len(w.m.Groups))
	for i, g := range w.m.Groups {
		for u := range w.n + 1 {
			for v := range w.n + 1 {
				e := g.Edge(w.point(g, u), w.point(g, v))
				out[i].dur, out[i].money = append(out[i].dur, e.Dur), append(out[i].money, e.Money)
			}
		}
	}
	return out
}

func (w *world) point(g *search.Group, v int) int32 {
	if v == w.n {
		return g.Home
	}
	return int32(v)
}

// routeOf is a rig on a day.
type routeOf struct {
	rig, day, kind int
	stride         int
	g              *drives
	rd             *search.RigDay
}

// Suits tells whether a model can be evolved: no nights out, no split visits,
// no hygiene, no price on darkness, and one way for a visit to go on a route.
func Suits(m *search.Model) bool {
	if m.HasWait || m.HasDirt || m.Price.Late > 0 || m.Roams() || len(m.Visits) < 8 {
		return false
	}
	for v := range m.Visits {
		where := m.Visits[v].Where
		if m.Visits[v].MinChunk > 0 {
			return false
		}
		for i := 1; i < len(where); i++ {
			if where[i].Rig == where[i-1].Rig && where[i].Day == where[i-1].Day {
				return false
			}
		}
	}
	return true
}

func newWorld(m *search.Model) *world {
	w := &world{m: m, n: len(m.Visits)}
	kinds := map[[2]int]int{}
	first := make([]int, len(m.Rigs))
	drives := w.drives()
	for r := range m.Rigs {
		first[r] = r
		if t := m.Rigs[r].Twin; t >= 0 {
			first[r] = first[t]
		}
		for d := range m.Days {
			if !m.Rigs[r].Days[d].Open {
				continue
			}
			k, known := kinds[[2]int{first[r], d}]
			if !known {
				k = len(w.nodes)
				kinds[[2]int{first[r], d}] = k
				w.nodes = append(w.nodes, w.kind(first[r], d))
			}
			w.routes = append(w.routes, routeOf{rig: r, day: d, kind: k, stride: w.n + 1, g: &drives[m.Rigs[r].Days[d].Group], rd: &m.Rigs[r].Days[d]})
		}
	}
	w.neighbours()
	return w
}

// kind is the table of visits for a rig and day.
func (w *world) kind(r, d int) []node {
	out := make([]node, w.n+1)
	for v := range w.n {
		out[v] = node{choice: -1}
		for i := range w.m.Visits[v].Where {
			c := &w.m.Visits[v].Where[i]
			if int(c.Rig) == r && int(c.Day) == d {
				s := w.m.Whole(int32(v), c)
				out[v] = node{choice: int32(i), run: run{
					dur: s.Work, early: s.Early, late: s.Late, first: int32(v), last: int32(v), path: s.Extra, load: s.Load,
				}}
				if s.Early > s.Late {
					out[v].choice = -1
				}
			}
		}
	}
	return out
}

// closest is how many neighbours of a visit are tried.
const closest = 40

// neighbours ranks for every visit those that could stand next to it: near,
// with little waiting and little lateness between (Vidal et al. 2013).
func (w *world) neighbours() {
	w.near = make([][]int32, w.n)
	type pair struct {
		far   float64
		visit int32
	}
	for u := range w.n {
		var all []pair
		for v := range w.n {
			if u != v {
				all = append(all, pair{min(w.apart(u, v), w.apart(v, u)), int32(v)})
			}
		}
		slices.SortStableFunc(all, func(a, b pair) int {
			switch {
			case a.far < b.far:
				return -1
			case a.far > b.far:
				return 1
			}
			return 0
		})
		for _, p := range all[:min(closest, len(all))] {
			w.near[u] = append(w.near[u], p.visit)
		}
	}
}

// apart is how unattractive it is to work v right after u, at best.
func (w *world) apart(u, v int) float64 {
	best := 1e18
	for k, nodes := range w.nodes {
		a, b := &nodes[u], &nodes[v]
		if a.choice < 0 || b.choice < 0 {
			continue
		}
		drive := w.driveOf(k, u, v)
		wait := max(0, b.early-a.dur-drive-a.late)
		late := max(0, a.early+a.dur+drive-b.late)
		best = min(best, float64(drive)+0.2*float64(wait)+float64(late))
	}
	return best
}

func (w *world) driveOf(kind, u, v int) int32 {
	for i := range w.routes {
		if w.routes[i].kind == kind {
			return w.routes[i].g.dur[u*(w.n+1)+v]
		}
	}
	return 0
}
