package drive

import (
	"math"

	"drawbar/routing/road/network"
)

// pair is a number for the vehicle alone and one for it with a trailer.
type pair struct{ solo, tow float64 }

func (p pair) of(towing bool) float64 {
	if towing {
		return p.tow
	}
	return p.solo
}

// The practical speeds in km/h, all common practice without a source. easy is
// what a road of a class gives where no limit is signed, most what it gives
// with any sign.
var (
	easy = [network.Classes]pair{
		network.Motorway: {105, 88}, network.Trunk: {88, 78}, network.Primary: {74, 66}, network.Secondary: {66, 58},
		network.Tertiary: {58, 50}, network.Unclassified: {46, 39}, network.Residential: {34, 29}, network.LivingStreet: {10, 8},
		network.Service: {18, 14}, network.Driveway: {12, 9}, network.Track: {18, 14}, network.Ferry: {15, 15},
	}
	most = [network.Classes]pair{
		network.Motorway: {125, 105}, network.Trunk: {108, 92}, network.Primary: {95, 82}, network.Secondary: {86, 74},
		network.Tertiary: {74, 62}, network.Unclassified: {60, 48}, network.Residential: {45, 38}, network.LivingStreet: {12, 10},
		network.Service: {25, 20}, network.Driveway: {15, 12}, network.Track: {30, 22}, network.Ferry: {15, 15},
	}
	onSurface   = map[network.Surface]pair{network.Cobbles: {40, 32}, network.Gravel: {48, 38}, network.Earth: {28, 20}, network.Soft: {12, 8}}
	onGrade     = [6]pair{1: {30, 24}, 2: {22, 18}, 3: {16, 12}, 4: {10, 8}, 5: {7, 5}}
	onRoughness = [9]pair{4: {45, 35}, 5: {32, 22}, 6: {16, 11}, 7: {8, 5}, 8: {5, 3}}
	onLane      = pair{50, 36}
	onLink      = pair{65, 54}
	onCircle    = pair{30, 22}
	onSlope     = pair{55, 38} // 10 % and more
	onSteep     = pair{35, 22} // 15 % and more
)

// ofLimit is the share of a signed limit that is driven on average, over a
// piece of open road. Common practice, no source.
const ofLimit = 0.92

// Speed is the average speed in km/h at which the vehicle drives roads of a
// kind in a direction (0 along, 1 against).
func (p *Profile) Speed(k *network.Kind, direction int) float64 {
	if k.Class == network.Ferry && k.Limit[direction] > 0 {
		return float64(k.Limit[direction])
	}
	towing := p.Vehicle.Towing
	speed := easy[k.Class].of(towing)
	if k.Limit[direction] > 0 {
		speed = min(ofLimit*float64(k.Limit[direction]), most[k.Class].of(towing))
	}
	if legal := p.Rules.legal(k, direction, towing); legal > 0 {
		speed = min(speed, float64(legal))
	}
	return max(2, min(speed, groundSpeed(k, towing), shapeSpeed(k, towing)))
}

// groundSpeed is what the ground allows.
func groundSpeed(k *network.Kind, towing bool) float64 {
	speed := math.Inf(1)
	for _, cap := range []pair{onSurface[k.Surface], onGrade[min(k.Grade, 5)], onRoughness[min(k.Roughness, 8)]} {
		if v := cap.of(towing); v > 0 {
			speed = min(speed, v)
		}
	}
	return speed
}

// shapeSpeed is what width, slope and bends allow.
func shapeSpeed(k *network.Kind, towing bool) float64 {
	speed := math.Inf(1)
	slope := max(k.Incline, -k.Incline)
	for _, c := range []struct {
		holds bool
		cap   pair
	}{
		{k.Has(network.Lane), onLane},
		{k.Has(network.Link), onLink},
		{k.Has(network.Roundabout), onCircle},
		{slope >= 10, onSlope},
		{slope >= 15, onSteep},
	} {
		if c.holds {
			speed = min(speed, c.cap.of(towing))
		}
	}
	return speed
}
