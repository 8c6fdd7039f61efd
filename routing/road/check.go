package road

import (
	"context"

	"drawbar/routing/road/drive"
)

// referee repeats a table by plain Dijkstra on the turn graph. It shares with
// the router the graph and the costs, and nothing of how it searches: it looks
// from each site at all states in turn, and keeps by doubling the states
// whether a journey is still on its first leg.
type referee struct {
	m    *Map
	x    *metric
	dist []drive.Cost // state, or state + states on the last leg
	heap heap
	ends map[int32][]end // arc → the sites on it
}

// end is a site as the end of journeys over an arc.
type end struct {
	site int
	part drive.Cost // from the beginning of the arc, the gap included
}

// Dijkstra gives the costs from some sites to others without the hierarchy, for
// checking: slow, and independent of it. Row by row, as in Costs.
func (m *Map) Dijkstra(ctx context.Context, from, to []Site, v drive.Vehicle) ([]drive.Cost, error) {
	r := &referee{m: m, x: m.metric(v), dist: make([]drive.Cost, 2*m.turns.States()), ends: map[int32][]end{}}
	for j := range to {
		r.addEnd(j, &to[j])
	}
	costs := make([]drive.Cost, 0, len(from)*len(to))
	for i := range from {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		row := make([]drive.Cost, len(to))
		for j := range row {
			row[j], _ = m.direct(r.x, &from[i], &to[j])
		}
		r.from(&from[i], row)
		costs = append(costs, row...)
	}
	return costs, nil
}

func (r *referee) addEnd(j int, site *Site) {
	if !site.Found {
		return
	}
	for d := range int32(2) {
		if arc := 2*site.Edge + d; r.x.costs.Arc[arc] < drive.Inf {
			r.ends[arc] = append(r.ends[arc], end{j, site.gapCost() + r.m.part(r.x, site, d)})
		}
	}
}

// from fills a row of the table.
func (r *referee) from(site *Site, row []drive.Cost) {
	for i := range r.dist {
		r.dist[i] = drive.Inf
	}
	r.heap = r.heap[:0]
	if !site.Found {
		return
	}
	for d := range int32(2) {
		if arc := 2*site.Edge + d; r.x.costs.Arc[arc] < drive.Inf {
			r.reach(arc, site.gapCost()+r.m.rest(r.x, site, d))
		}
	}
	for len(r.heap) > 0 {
		if e := r.heap.pop(); e.cost == r.dist[e.state] {
			r.settle(e, row)
		}
	}
}

func (r *referee) reach(at int32, cost drive.Cost) {
	if cost < r.dist[at] { // which is never above drive.Inf
		r.dist[at] = cost
		r.heap.push(entry{cost, at})
	}
}

// settle drives on from a state: from the first leg anywhere, from the through
// network to it or to the last leg, from the last leg only along it.
func (r *referee) settle(e entry, row []drive.Cost) {
	m, states := r.m, int32(r.m.turns.States())
	state, last := e.state, e.state >= states
	if last {
		state -= states
	}
	for i := m.turns.Start[state]; i < m.turns.Start[state+1]; i++ {
		to := m.turns.To[i]
		turn, arc := r.x.turn(m.turns.How[i]), m.turns.Arc[to]
		if turn >= drive.Inf || r.x.costs.Arc[arc] >= drive.Inf || last && m.through(to) {
			continue
		}
		for _, end := range r.ends[arc] {
			row[end.site] = min(row[end.site], e.cost+turn+end.part, drive.Inf)
		}
		if last || m.through(state) && !m.through(to) {
			to += states
		}
		r.reach(to, e.cost+turn+r.x.costs.Arc[arc])
	}
}

// Difference is a cell in which two tables differ.
type Difference struct {
	From, To  int
	Got, Want drive.Cost
}

// Check repeats a table by Dijkstra and lists the cells that differ.
func (m *Map) Check(ctx context.Context, sites []Site, v drive.Vehicle) ([]Difference, error) {
	got, err := m.Costs(ctx, sites, v)
	if err != nil {
		return nil, err
	}
	want, err := m.Dijkstra(ctx, sites, sites, v)
	if err != nil {
		return nil, err
	}
	var out []Difference
	for i := range got {
		if got[i] != want[i] {
			out = append(out, Difference{i / len(sites), i % len(sites), got[i], want[i]})
		}
	}
	return out, nil
}
