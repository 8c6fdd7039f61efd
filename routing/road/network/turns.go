package network

import "math"

// Turns is the graph a search runs on. State s drives arc Arc[s]; the turns
// out of it are those from Start[s] to Start[s+1].
type Turns struct {
	Arc   []int32
	Start []int32
	To    []int32 // by turn: the state it leads to
	How   []Turn  // by turn
}

// States is the number of states.
func (t *Turns) States() int { return len(t.Arc) }

// builder derives the turn graph.
type builder struct {
	r       *Roads
	first   []int32 // arcs out of vertex v are list[first[v]:first[v+1]]
	list    []int32
	arms    []uint8 // open edges at a vertex, at most 255
	top     []Class // the most important class at a vertex
	leaving []int16 // by arc: bearing at its start
	memory  *memory
	extra   []int32 // memory node → its own state, or -1
	t       *Turns
}

const (
	bearings  = 3600 // a full turn in units of leaving
	noBearing = math.MinInt16
)

// BuildTurns derives the turn graph of a network.
func BuildTurns(r *Roads) *Turns {
	b := &builder{r: r, memory: newMemory(r.Bans, 2*len(r.Edges)), t: &Turns{}}
	b.first, b.list = OutArcs(r)
	b.measureVertices()
	b.measureBearings()
	b.addStates()
	for s := range b.t.Arc {
		b.addTurns(int32(s))
	}
	return b.t
}

func (b *builder) out(v int32) []int32 { return b.list[b.first[v]:b.first[v+1]] }

// OutArcs lists the open arcs by the vertex they leave: those of v are
// list[first[v]:first[v+1]].
func OutArcs(r *Roads) (first, list []int32) {
	first = make([]int32, len(r.Vertices)+1)
	arcs := int32(2 * len(r.Edges))
	for a := range arcs {
		if r.Open(a) {
			first[r.Tail(a)+1]++
		}
	}
	for v := range r.Vertices {
		first[v+1] += first[v]
	}
	list = make([]int32, first[len(r.Vertices)])
	next := append([]int32(nil), first...)
	for a := range arcs {
		if r.Open(a) {
			list[next[r.Tail(a)]] = a
			next[r.Tail(a)]++
		}
	}
	return first, list
}

func (b *builder) measureVertices() {
	b.arms, b.top = make([]uint8, len(b.r.Vertices)), make([]Class, len(b.r.Vertices))
	for v := range b.top {
		b.top[v] = Classes
	}
	for e := range b.r.Edges {
		edge := &b.r.Edges[e]
		if a := int32(2 * e); !b.r.Open(a) && !b.r.Open(a+1) {
			continue
		}
		for _, v := range [2]int32{edge.From, edge.To} {
			b.arms[v] += min(1, math.MaxUint8-b.arms[v])
			b.top[v] = min(b.top[v], b.r.Kinds[edge.Kind].Class)
		}
	}
}

func (b *builder) measureBearings() {
	b.leaving = make([]int16, 2*len(b.r.Edges))
	var line []Point
	for a := range b.leaving {
		line = b.r.Line(int32(a), line[:0])
		b.leaving[a] = noBearing
		if degrees, ok := bearing(line); ok {
			b.leaving[a] = int16(math.Round(degrees * bearings / 360))
		}
	}
}

func (b *builder) hasBearing(arc int32) bool { return b.leaving[arc] != noBearing }

// addStates makes one state for each arc and one for each beginning of a ban
// that is two arcs long or more.
func (b *builder) addStates() {
	b.t.Arc = make([]int32, 2*len(b.r.Edges))
	for a := range b.t.Arc {
		b.t.Arc[a] = int32(a)
	}
	b.extra = make([]int32, len(b.memory.arc))
	for node := range b.extra {
		b.extra[node] = -1
		if b.memory.depth[node] >= 2 {
			b.extra[node] = int32(len(b.t.Arc))
			b.t.Arc = append(b.t.Arc, b.memory.arc[node])
		}
	}
	b.t.Start = make([]int32, 1, len(b.t.Arc)+1)
}

// nodeOf is the memory a state stands for.
func (b *builder) nodeOf(s int32) int32 {
	if plain := int32(2 * len(b.r.Edges)); s >= plain {
		return b.memory.deep[s-plain]
	}
	return b.memory.begin[s]
}

func (b *builder) addTurns(s int32) {
	from, node := b.t.Arc[s], b.nodeOf(s)
	if b.r.Open(from) {
		v := b.r.Head(from)
		for _, to := range b.out(v) {
			b.addTurn(from, to, v, node)
		}
	}
	b.t.Start = append(b.t.Start, int32(len(b.t.To)))
}

func (b *builder) addTurn(from, to, v, node int32) {
	how, ok := b.turn(from, to, v), true
	if to == from^1 {
		how, ok = b.uTurn(from, v)
	}
	after, stopped := b.memory.step(node, to)
	if !ok || stopped == Everybody {
		return
	}
	if stopped == Towers {
		how |= NotTowing
	}
	state := to
	if b.extra[after] >= 0 {
		state = b.extra[after]
	}
	b.t.To, b.t.How = append(b.t.To, state), append(b.t.How, how)
}

// Reversed is the same graph with every turn the other way round.
func (t *Turns) Reversed() *Turns {
	n := t.States()
	back := &Turns{Arc: t.Arc, Start: make([]int32, n+1), To: make([]int32, len(t.To)), How: make([]Turn, len(t.How))}
	for _, to := range t.To {
		back.Start[to+1]++
	}
	for s := range n {
		back.Start[s+1] += back.Start[s]
	}
	next := append([]int32(nil), back.Start...)
	for s := range n {
		for i := t.Start[s]; i < t.Start[s+1]; i++ {
			k := next[t.To[i]]
			next[t.To[i]]++
			back.To[k], back.How[k] = int32(s), t.How[i]
		}
	}
	return back
}
