package road

import (
	"sync"
	"time"

	"drawbar/routing/road/contract"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
	"drawbar/routing/road/roadfile"
)

// Map is a road network ready to be driven on. It is safe for use from many
// goroutines.
type Map struct {
	roads    *network.Roads
	turns    *network.Turns
	back     *network.Turns    // turns the other way round
	copies   map[int32][]int32 // arc → states that drive it besides the plain one
	node     []int32           // state → node of the hierarchy
	state    []int32           // node → state
	topology *contract.Topology
	arcTurn  []int32 // arc of the hierarchy → turn
	grid     *grid

	mu      sync.Mutex
	metrics map[string]*metric
	scratch sync.Pool
	tables  cache
}

// Open makes a Map of a road file's bytes. The error says what is wrong with
// the file.
func Open(data []byte) (*Map, error) {
	r, err := roadfile.Read(data)
	if err != nil {
		return nil, err
	}
	return New(r), nil
}

// New makes a Map of a network, which must not change afterwards.
func New(r *network.Roads) *Map {
	m := &Map{roads: r, turns: network.BuildTurns(r), metrics: map[string]*metric{}, copies: map[int32][]int32{}}
	for s := 2 * len(r.Edges); s < m.turns.States(); s++ {
		m.copies[m.turns.Arc[s]] = append(m.copies[m.turns.Arc[s]], int32(s))
	}
	m.rank()
	var rest sync.WaitGroup
	rest.Go(func() { m.back, m.grid = m.turns.Reversed(), newGrid(r) })
	m.contract()
	rest.Wait()
	m.scratch.New = func() any { return newScratch(m) }
	return m
}

// rank numbers the states for contraction: those of through arcs in the order
// of their edges, then the others, which stand alone.
func (m *Map) rank() {
	m.node = make([]int32, m.turns.States())
	for s := range m.node {
		m.node[s] = -1
	}
	give := func(s int32) {
		m.node[s] = int32(len(m.state))
		m.state = append(m.state, s)
	}
	for _, e := range m.roads.Order {
		for _, arc := range [2]int32{2 * e, 2*e + 1} {
			if !m.roads.Through(arc) {
				continue
			}
			give(arc)
			for _, s := range m.copies[arc] {
				give(s)
			}
		}
	}
	for s, n := range m.node {
		if n < 0 {
			give(int32(s))
		}
	}
}

// contract builds the hierarchy over the turns between through arcs.
func (m *Map) contract() {
	var arcs []contract.Arc
	for s := range int32(m.turns.States()) {
		if !m.through(s) {
			continue
		}
		for i := m.turns.Start[s]; i < m.turns.Start[s+1]; i++ {
			if to := m.turns.To[i]; m.through(to) {
				arcs = append(arcs, contract.Arc{From: m.node[s], To: m.node[to]})
				m.arcTurn = append(m.arcTurn, i)
			}
		}
	}
	m.topology = contract.Build(m.turns.States(), arcs)
}

func (m *Map) through(state int32) bool { return m.roads.Through(m.turns.Arc[state]) }

// Info says what a map is made of.
type Info struct {
	Region   string
	Rules    drive.Rules
	Source   string    // credit line, to be shown with every map
	Date     time.Time // of the data
	Vertices int
	Edges    int
	States   int
	// Shortcuts is the size of the hierarchy, Height the most nodes any
	// search can visit.
	Shortcuts, Height int
}

// Info describes the map.
func (m *Map) Info() Info {
	return Info{
		Region: m.roads.Region, Rules: m.rules(), Source: m.roads.Source, Date: m.roads.Date,
		Vertices: len(m.roads.Vertices), Edges: len(m.roads.Edges), States: m.turns.States(),
		Shortcuts: m.topology.Shortcuts(), Height: m.topology.Height(),
	}
}

func (m *Map) rules() drive.Rules {
	r, _ := drive.RulesFor(m.roads.Region)
	return r
}

// Roads gives the network, to be read only.
func (m *Map) Roads() *network.Roads { return m.roads }
