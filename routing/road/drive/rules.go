package drive

import (
	"strings"

	"drawbar/routing/road/network"
)

// Limits are speed limits in km/h by kind of road; 0 means none of its own.
type Limits struct{ LivingStreet, Urban, Rural, Dual, Motorway uint16 }

// Rules are what holds in a region where no sign says otherwise.
type Rules struct {
	Region    string // ISO 3166-1 or -2
	DriveLeft bool
	Car       Limits
	Trailer   Limits // for cars with a trailer, on top of Car
	Source    string
	Read      string // day the source was read or last changed
}

// RulesFor finds the rules of a region: its own, its country's, or cautious
// ones. known tells whether it is one of the first two.
func RulesFor(region string) (r Rules, known bool) {
	country, _, _ := strings.Cut(region, "-")
	for _, code := range []string{region, country} {
		for _, r := range regions {
			if r.Region == code {
				return r, true
			}
		}
	}
	r = cautious
	r.Region = region
	return r, false
}

// Regions lists the codes that have rules of their own.
func Regions() []string {
	codes := make([]string, len(regions))
	for i, r := range regions {
		codes[i] = r.Region
	}
	return codes
}

// limit is the default limit for a kind of road.
func (l Limits) limit(k *network.Kind) uint16 {
	var chain []uint16
	switch {
	case k.Class == network.Motorway:
		chain = []uint16{l.Motorway, l.Dual, l.Rural}
	case k.Class == network.LivingStreet:
		chain = []uint16{l.LivingStreet, l.Urban}
	case k.Has(network.Urban):
		chain = []uint16{l.Urban}
	case k.Has(network.Dual):
		chain = []uint16{l.Dual, l.Rural}
	default:
		chain = []uint16{l.Rural}
	}
	for _, v := range chain {
		if v > 0 {
			return v
		}
	}
	return 0
}

// legal is the highest speed allowed to the vehicle, 0 without a limit.
func (r *Rules) legal(k *network.Kind, direction int, towing bool) uint16 {
	limit := k.Limit[direction]
	if limit == 0 {
		limit = r.Car.limit(k)
	}
	if towing {
		limit = least(limit, k.TowLimit[direction])
		limit = least(limit, r.Trailer.limit(k))
	}
	return limit
}

// least is the lower of two limits, 0 being none.
func least(a, b uint16) uint16 {
	if a == 0 || b != 0 && b < a {
		return b
	}
	return a
}
