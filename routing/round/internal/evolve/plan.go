package evolve

import "slices"

// plan is an individual: what is on every route, in order.
type plan struct {
	routes [][]int32
	out    []int32 // left out
	cost   int64   // without fines
	warp   int64   // seconds late
	over   int64   // load too much
	prev   []int32 // the visit before each; -1 = none, -2 = left out
	next   []int32
	near   []closeTo // the other plans of its kind, nearest first
	score  float64
}

type closeTo struct {
	apart float64
	p     *plan
}

func (p *plan) reset(routes int) {
	if len(p.routes) != routes {
		p.routes = make([][]int32, routes)
	}
	p.out = p.out[:0]
	p.cost, p.warp, p.over = 0, 0, 0
}

// holds tells whether the plan breaks no rule.
func (p *plan) holds() bool { return p.warp == 0 && p.over == 0 }

func (p *plan) fined(f fines) int64 { return p.cost + p.warp*f.late + p.over*f.load }

func (p *plan) clone() *plan {
	q := &plan{routes: make([][]int32, len(p.routes)), out: slices.Clone(p.out), cost: p.cost, warp: p.warp, over: p.over}
	for i := range p.routes {
		q.routes[i] = slices.Clone(p.routes[i])
	}
	return q
}

// link notes who stands next to whom.
func (p *plan) link(n int) {
	p.prev, p.next = make([]int32, n), make([]int32, n)
	for _, v := range p.out {
		p.prev[v], p.next[v] = -2, -2
	}
	for _, seq := range p.routes {
		before := int32(-1)
		for i, v := range seq {
			p.prev[v] = before
			p.next[v] = -1
			if i > 0 {
				p.next[before] = v
			}
			before = v
		}
	}
}

// apart is the share of visits whose neighbours differ (broken pairs).
func apart(p, q *plan) float64 {
	differ := 0
	for v := range p.prev {
		if p.next[v] != q.next[v] && p.next[v] != q.prev[v] {
			differ++
		}
		if p.prev[v] < 0 && q.prev[v] >= 0 && q.next[v] >= 0 {
			differ++
		}
	}
	return float64(differ) / float64(max(len(p.prev), 1))
}
