package road

import (
	"fmt"
	"strings"
	"sync"

	"drawbar/routing/road/contract"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/network"
)

// mostMetrics is how many vehicles that differ in where they can go are kept,
// some 15 MB each for 100,000 edges.
const mostMetrics = 24

// metric is the map for one vehicle.
type metric struct {
	vehicle drive.Vehicle
	costs   *drive.Costs
	ready   sync.Once
	h       *contract.Metric
}

// metric finds or makes the metric of a vehicle. Vehicles that are stopped by
// the same roads share one, whatever their sizes.
func (m *Map) metric(v drive.Vehicle) *metric {
	key := m.metricKey(v)
	m.mu.Lock()
	x, ok := m.metrics[key]
	if !ok {
		if len(m.metrics) >= mostMetrics {
			clear(m.metrics) // those in use live on until their searches end
		}
		x = &metric{vehicle: v}
		m.metrics[key] = x
	}
	m.mu.Unlock()
	x.ready.Do(func() { m.weigh(x) })
	return x
}

func (m *Map) metricKey(v drive.Vehicle) string {
	var key strings.Builder
	fmt.Fprint(&key, v.Towing)
	for i := range m.roads.Kinds {
		if v.Stopped(&m.roads.Kinds[i]) != "" {
			fmt.Fprint(&key, " ", i)
		}
	}
	return key.String()
}

// weigh gives the hierarchy the vehicle's costs.
func (m *Map) weigh(x *metric) {
	p := drive.Profile{Vehicle: x.vehicle, Rules: m.rules()}
	x.costs = p.Costs(m.roads)
	costs := make([]uint64, len(m.arcTurn))
	for i, turn := range m.arcTurn {
		costs[i] = m.step(x, turn)
	}
	x.h = m.topology.Customize(costs)
}

// step is the cost of a turn and the arc after it, drive.Inf when closed.
func (m *Map) step(x *metric, turn int32) drive.Cost {
	return min(x.turn(m.turns.How[turn])+x.costs.Arc[m.turns.Arc[m.turns.To[turn]]], drive.Inf)
}

func (x *metric) turn(t network.Turn) drive.Cost { return x.costs.Turn[t] }
