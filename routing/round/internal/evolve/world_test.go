package evolve

import (
	"pgregory.net/rapid"

	"drawbar/routing/round/internal/search"
)

// drawModel makes a small model up that Suits but for its size: two kinds of
// rigs, short times so that every start can be tried, loads and windows tight
// enough to be broken.
func drawModel(t *rapid.T) *search.Model {
	n, rigs := rapid.IntRange(4, 9).Draw(t, "visits"), rapid.IntRange(2, 4).Draw(t, "rigs")
	small := func(name string, lo, hi int32) int32 { return rapid.Int32Range(lo, hi).Draw(t, name) }
	m := &search.Model{Days: 1, Timed: true, HasLoad: true, Price: search.Price{
		Second: int64(small("second", 0, 3)), Over: int64(small("over", 0, 3)), RigDay: int64(small("rig day", 0, 20)),
	}}
	m.Dawn, m.Dusk = []int32{0}, []int32{120}
	drives := search.NewDrives(n + 1)
	for i := range n + 1 {
		for j := range n + 1 {
			if i != j {
				drives.Set(i, j, search.Leg{Dur: small("drive", 0, 9), Metres: small("metres", 0, 30)})
			}
		}
	}
	for k := range 2 {
		g := &search.Group{Drives: drives, Home: int32(n), PerMetre: int64(1 + k), SetUp: make([]int32, n+1), Pack: make([]int32, n+1), Spread: make([]int64, n)}
		g.Out, g.Back = make([]search.Edge, n), make([]search.Edge, n)
		for v := range n {
			g.SetUp[v], g.Pack[v] = small("set-up", 0, 2), small("pack-down", 0, 2)
			g.Work = append(g.Work, small("work", 0, 8))
		}
		m.Groups = append(m.Groups, g)
	}
	for r := range rigs {
		day := search.RigDay{Group: r % 2, Open: true, Start: small("start", 0, 10), End: 60, Latest: 80, Longest: small("longest", 30, 90), MaxLoad: 12}
		m.Rigs = append(m.Rigs, search.Rig{Days: []search.RigDay{day}, Twin: -1})
	}
	for range n {
		m.Visits = append(m.Visits, drawVisit(t, rigs))
	}
	m.Prepare()
	return m
}

func drawVisit(t *rapid.T, rigs int) search.Visit {
	v := search.Visit{Lit: true, Load: rapid.Int64Range(0, 6).Draw(t, "load"), Absent: 100000}
	early := rapid.Int32Range(0, 50).Draw(t, "early")
	late := early + rapid.Int32Range(0, 25).Draw(t, "open")
	but := rapid.IntRange(-1, rigs-1).Draw(t, "never on")
	for r := range rigs {
		if r != but {
			v.Where = append(v.Where, search.Choice{Rig: int32(r), Early: early, Late: late, Extra: int64(r)})
		}
	}
	return v
}

// clock is what driving a route by the clock shows: it starts at every second,
// waits when early and turns the clock back when late.
type clock struct{ warp, dur, start int32 }

func byClock(r *route) clock {
	best := clock{warp: 1 << 30}
	for start := r.rd.Start; start < 120; start++ {
		now, warp := start, int32(0)
		for i := 1; i < len(r.seq); i++ {
			now += r.g.dur[int(r.seq[i-1])*r.stride+int(r.seq[i])]
			early, late, work := int32(0), r.rd.Latest, int32(0)
			if i < len(r.seq)-1 {
				n := r.nodes[r.seq[i]]
				early, late, work = n.early, n.late, n.dur
			}
			now = max(now, early)
			if now > late {
				warp += now - late
				now = late
			}
			now += work
		}
		if dur := now - start + warp; warp < best.warp || warp == best.warp && dur < best.dur {
			best = clock{warp, dur, start}
		}
	}
	return best
}

// anew prices a route from its sequence alone.
func anew(l *local, r *route) int64 {
	if len(r.seq) == 2 {
		return 0
	}
	c, p := byClock(r), &l.w.m.Price
	cost := p.RigDay + l.fines.late*int64(c.warp+max(0, c.dur-r.rd.Longest)) + p.Second*int64(c.dur) + p.Over*int64(max(0, c.start+c.dur-r.rd.End))
	var load int64
	for i := 1; i < len(r.seq); i++ {
		cost += r.g.money[int(r.seq[i-1])*r.stride+int(r.seq[i])]
		if v := r.seq[i]; int(v) < l.w.n {
			load += l.w.m.Visits[v].Load
			cost += r.nodes[v].path
		}
	}
	return cost + l.fines.load*max(0, load-r.rd.MaxLoad)
}

// drawLocal is a model with a random plan loaded.
func drawLocal(t *rapid.T) *local {
	w := newWorld(drawModel(t))
	l := newLocal(w, search.NewRand(rapid.Uint64().Draw(t, "seed"), 0))
	l.fines = fines{late: rapid.Int64Range(1, 50).Draw(t, "late fine"), load: rapid.Int64Range(1, 50).Draw(t, "load fine")}
	l.load(drawPlan(t, w))
	return l
}

// drawPlan throws every visit onto a route where it may go.
func drawPlan(t *rapid.T, w *world) *plan {
	p := &plan{routes: make([][]int32, len(w.routes))}
	order := make([]int32, w.n)
	for v := range order {
		order[v] = int32(v)
	}
	for _, v := range rapid.Permutation(order).Draw(t, "order") {
		at := rapid.IntRange(0, len(w.routes)-1).Draw(t, "route")
		for w.nodes[w.routes[at].kind][v].choice < 0 {
			at = (at + 1) % len(w.routes)
		}
		p.routes[at] = append(p.routes[at], v)
	}
	return p
}
