package drive

import (
	"math"

	"drawbar/routing/road/network"
)

// Profile is a vehicle under the rules of a region.
type Profile struct {
	Vehicle Vehicle
	Rules   Rules
}

// Seconds lost at things on the way, common practice without a source: a gate
// is opened, driven through and shut again.
var stops = []struct {
	feature network.Feature
	seconds pair
}{
	{network.Gate, pair{45, 60}},
	{network.CattleGrid, pair{4, 8}},
	{network.Ford, pair{15, 25}},
	{network.Toll, pair{15, 20}},
}

// Seconds a turn takes on top of the driving, common practice without a
// source. near is the turn that crosses no other traffic. A U-turn with the
// trailer on needs a circle or loop, the end of a road, or a side road to back
// into; a vehicle alone turns anywhere off the main roads.
var (
	nearTurn, nearSharp = pair{3, 5}, pair{5, 9}
	farTurn, farSharp   = pair{5, 8}, pair{7, 12}
	uTurns              = map[network.Turn]pair{
		network.UCircle:  {8, 15},
		network.UDeadEnd: {20, 90},
		network.UBackIn:  {25, 120},
		network.UOpen:    {30, math.Inf(1)},
	}
	atSignals = pair{10, 12}
	givingWay = pair{4, 7}
)

// turnSeconds is what a turn takes, endless if it is not possible.
func (p *Profile) turnSeconds(t network.Turn) float64 {
	towing := p.Vehicle.Towing
	if towing && t.Has(network.NotTowing) {
		return math.Inf(1)
	}
	seconds := p.shapeSeconds(t.Shape()).of(towing)
	if t.Has(network.AtSignals) {
		seconds += atSignals.of(towing)
	}
	if t.Has(network.GiveWay) {
		seconds += givingWay.of(towing)
	}
	return seconds
}

func (p *Profile) shapeSeconds(shape network.Turn) pair {
	near := shape == network.Right || shape == network.SharpRight
	if p.Rules.DriveLeft {
		near = shape == network.Left || shape == network.SharpLeft
	}
	switch shape {
	case network.Ahead:
		return pair{}
	case network.Left, network.Right:
		if near {
			return nearTurn
		}
		return farTurn
	case network.SharpLeft, network.SharpRight:
		if near {
			return nearSharp
		}
		return farSharp
	}
	return uTurns[shape]
}

// Costs are the costs of a network for one profile.
type Costs struct {
	Arc  []Cost    // by arc
	Turn [256]Cost // by network.Turn
}

// Costs weighs every arc and every kind of turn.
func (p *Profile) Costs(r *network.Roads) *Costs {
	c := &Costs{Arc: make([]Cost, 2*len(r.Edges))}
	pace := p.paces(r.Kinds)
	for a := range c.Arc {
		e := &r.Edges[a>>1]
		c.Arc[a] = pace[2*int(e.Kind)+a&1].cost(e.Length)
	}
	for t := range c.Turn {
		c.Turn[t] = Inf
		if s := p.turnSeconds(network.Turn(t)); !math.IsInf(s, 1) {
			c.Turn[t] = Pack(int64(math.Round(s*1000)), 0)
		}
	}
	return c
}

// pace is how a direction of a kind is driven; closed at 0 km/h.
type pace struct{ kmh, delay float64 }

// longest is the longest an edge may take, in milliseconds, some six days. More
// is a mistake in the map, and journeys of two such would not fit a Cost.
const longest = 1 << 29

// cost is what so many decimetres cost.
func (p pace) cost(length int32) Cost {
	if p.kmh <= 0 {
		return Inf
	}
	millis := math.Round(float64(length)*360/p.kmh + p.delay*1000)
	if millis >= longest {
		return Inf
	}
	return Pack(int64(millis), int64(length))
}

// paces has two entries a kind, along and against.
func (p *Profile) paces(kinds []network.Kind) []pace {
	out := make([]pace, 2*len(kinds))
	for i := range kinds {
		k := &kinds[i]
		if p.Vehicle.Stopped(k) != "" {
			continue
		}
		for d := range 2 {
			if k.Open(d) {
				out[2*i+d] = pace{p.Speed(k, d), p.stopSeconds(k, d)}
			}
		}
	}
	return out
}

func (p *Profile) stopSeconds(k *network.Kind, direction int) float64 {
	seconds := float64(k.Delay[direction])
	for _, s := range stops {
		if k.Has(s.feature) {
			seconds += s.seconds.of(p.Vehicle.Towing)
		}
	}
	return seconds
}
