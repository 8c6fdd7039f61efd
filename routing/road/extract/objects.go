package extract

import (
	"github.com/paulmach/osm"

	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// object is what stands at a node.
type object struct {
	barrier bool // it becomes an edge of its own, of kind on top of the road's
	kind    network.Kind
	flags   network.VertexFlags // where the node is a vertex
	delay   [2]uint16           // where it is not: seconds along and against the way
}

// barriers sorts Key:barrier (wiki): what a car passes, and how. The others it
// does not pass unless tags say so.
var barriers = map[string]network.Feature{
	"gate": network.Gate, "lift_gate": network.Gate, "swing_gate": network.Gate, "sliding_gate": network.Gate, "hampshire_gate": network.Gate,
	"bump_gate": network.Gate, "chain": network.Gate, "cattle_grid": network.CattleGrid, "toll_booth": network.Toll,
}

// open are barriers that do not hold up a car at all.
var open = map[string]bool{"kerb": true, "entrance": true, "border_control": true, "height_restrictor": true, "sally_port": true, "no": true}

// Seconds lost on average, common practice without a source. Signals between
// junctions stand before one of them, so half of what they cost counts in each
// direction where none is said.
const (
	signalDelay = 10
	humpDelay   = 3
	railDelay   = 6
	stopDelay   = 4
)

// objectOf reads a node's tags.
func objectOf(tags osm.Tags) (object, bool) {
	var o object
	o.readBarrier(tags)
	switch tags.Find("highway") {
	case "traffic_signals":
		o.flags |= network.Signals
		o.delay = facing(tags, signalDelay)
	case "stop", "give_way":
		o.delay = facing(tags, stopDelay)
	case "turning_circle", "turning_loop":
		o.flags |= network.TurningPlace
	}
	if v := tags.Find("traffic_calming"); v != "" && v != "no" {
		o.delay = [2]uint16{humpDelay, humpDelay}
	}
	if tags.Find("railway") == "level_crossing" {
		o.delay = [2]uint16{railDelay, railDelay}
	}
	return o, o != object{}
}

func (o *object) readBarrier(tags osm.Tags) {
	b := tags.Find("barrier")
	ford := tags.Find("ford") == "yes" || tags.Find("highway") == "ford"
	setSizes(tags, &o.kind)
	if b != "" {
		o.kind.MaxWidth = lower(o.kind.MaxWidth, o.kind.Width)
	}
	o.kind.Width = 0
	o.kind.Features |= barriers[b]
	if ford {
		o.kind.Features |= network.Ford
	}
	access := barrierAccess(tags, b)
	if tags.Find("locked") == "yes" && access < tag.Closed {
		access = max(access, tag.LegOnly)
		o.kind.Features |= network.Locked
	}
	o.kind.Access = [2]tag.Access{access, access}
	o.barrier = o.kind != network.Kind{}
}

// barrierAccess is what a barrier does to a car; Through where there is none.
func barrierAccess(tags osm.Tags, barrier string) tag.Access {
	if barrier == "" {
		return tag.Through
	}
	if a, said := tag.MotorCar(tags); said {
		return a
	}
	if _, passed := barriers[barrier]; passed || open[barrier] {
		return tag.Through
	}
	return tag.Closed
}

// facing spreads a delay over the directions it faces.
func facing(tags osm.Tags, seconds uint16) [2]uint16 {
	for _, key := range []string{"traffic_signals:direction", "direction"} {
		switch tags.Find(key) {
		case "forward":
			return [2]uint16{seconds, 0}
		case "backward":
			return [2]uint16{0, seconds}
		}
	}
	return [2]uint16{seconds / 2, seconds / 2}
}

// on puts an object's own limits on top of a road's kind.
func (o *object) on(road network.Kind) network.Kind {
	k := road
	for d := range k.Access {
		k.Access[d] = max(k.Access[d], o.kind.Access[d])
	}
	k.Features |= o.kind.Features
	k.Delay = [2]uint16{}
	if o.kind.MaxKg > 0 && (k.MaxKg == 0 || o.kind.MaxKg < k.MaxKg) {
		k.MaxKg = o.kind.MaxKg
	}
	k.MaxHeight, k.MaxWidth = lower(k.MaxHeight, o.kind.MaxHeight), lower(k.MaxWidth, o.kind.MaxWidth)
	k.MaxLength = lower(k.MaxLength, o.kind.MaxLength)
	return k
}
