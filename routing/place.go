package routing

import "github.com/paulmach/orb"

// Place is a point that can be driven to: a yard, a home, a lodging.
type Place struct {
	ID string    // unique within one table
	At orb.Point // longitude, latitude in degrees, WGS 84
}

// Profile is what is being driven.
type Profile int

// The two ways a crew travels.
const (
	Towing Profile = iota // vehicle with the rig on
	Solo                  // the vehicle alone, for driving home and back
)

// String is the word for the profile.
func (p Profile) String() string {
	if p == Solo {
		return "solo"
	}
	return "towing"
}

// Leg is one drive. Seconds and Metres mean nothing unless Reachable.
type Leg struct {
	Seconds   int32
	Metres    int32
	Estimate  bool // from a detour factor, not from roads
	Reachable bool
}
