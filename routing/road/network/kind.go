package network

import "drawbar/routing/road/tag"

// Class is the importance of a road, after Key:highway of the OpenStreetMap
// wiki.
type Class uint8

// Classes from the most to the least important. Links count with their road.
const (
	Motorway Class = iota
	Trunk
	Primary
	Secondary
	Tertiary
	Unclassified
	Residential
	LivingStreet
	Service  // access roads
	Driveway // to one house, yard or car park
	Track    // farm and forest roads
	Ferry
	Classes // how many there are
)

// Surface sorts surfaces by what a trailer makes of them.
type Surface uint8

// Surfaces from the best to the worst; Unsaid is judged by the class.
const (
	Unsaid Surface = iota
	Paved
	Cobbles
	Gravel // compacted, gravel, fine gravel
	Earth  // ground, dirt, grass when dry
	Soft   // mud, sand: a trailer may not get out again
)

// Feature is a set of things a driver meets on an edge.
type Feature uint16

// Features.
const (
	Gate Feature = 1 << iota
	CattleGrid
	Ford
	Bridge
	Tunnel
	Toll
	Roundabout
	Link    // slip road
	Dual    // one carriageway of two
	Urban   // in a built-up area
	Lane    // one car wide
	NoTow   // trailers or caravans are not allowed
	Locked  // a gate that is kept locked
	Unnamed // a road that is known to have no name
)

// Kind is what many edges have in common. Two-element fields are for the
// direction along the edge and against it. Zero means not known, or no limit.
type Kind struct {
	Class     Class
	Access    [2]tag.Access
	Limit     [2]uint16 // signed or ferry speed
	TowLimit  [2]uint16 // signed for cars with trailers
	Surface   Surface
	Roughness uint8 // 0 unsaid, then 1 excellent … 8 impassable (Key:smoothness)
	Grade     uint8 // 0 unsaid, 1 solid … 5 soft (Key:tracktype)
	Features  Feature
	MaxKg     uint32
	MaxHeight uint16
	MaxWidth  uint16 // signed or between posts
	MaxLength uint16
	Width     uint16    // of the carriageway
	Incline   int8      // percent, uphill along the edge positive
	Delay     [2]uint16 // seconds for signals, humps, crossings
}

// Has tells whether the kind has all the features.
func (k *Kind) Has(f Feature) bool { return k.Features&f == f }

// Open tells whether a car may use a direction (0 along, 1 against) at all.
func (k *Kind) Open(direction int) bool { return k.Access[direction] < tag.Closed }
