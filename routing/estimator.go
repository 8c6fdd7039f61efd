package routing

import (
	"context"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// EarthRadius is the mean radius of the Earth in metres (IUGG R1 of the WGS 84
// ellipsoid), with which a great circle stays within 0.6 % of the geodesic.
const EarthRadius = 6371008.8

// GreatCircle is the distance in metres between two points on the sphere of
// EarthRadius, by the haversine formula.
func GreatCircle(a, b orb.Point) float64 {
	const rad = math.Pi / 180
	lat1, lat2 := a.Lat()*rad, b.Lat()*rad
	sinLat := math.Sin((lat2 - lat1) / 2)
	sinLon := math.Sin((b.Lon() - a.Lon()) * rad / 2)
	h := sinLat*sinLat + math.Cos(lat1)*math.Cos(lat2)*sinLon*sinLon
	return 2 * EarthRadius * math.Asin(math.Sqrt(min(h, 1)))
}

// class is what holds for drives of about a given great-circle length.
type class struct {
	metres       float64 // the middle (geometric) of the class
	detour       float64 // road metres per great-circle metre
	towing, solo float64 // kilometres per hour
}

// classes are read between their middles on a logarithmic scale, so that a
// yard a metre further away is never suddenly nearer by road.
//
// Detour factors: measured on OpenStreetMap extracts of flat country, for
// 1-5, 5-15, 15-40 and over 40 km; their mean agrees with the 1.3 ± 0.1 of
// Wang et al., npj Complexity 1:22 (2024). Speeds on country roads: common
// practice, no source.
var classes = []class{
	{metres: 2236, detour: 1.56, towing: 35, solo: 40},
	{metres: 8660, detour: 1.35, towing: 48, solo: 56},
	{metres: 24495, detour: 1.24, towing: 58, solo: 68},
	{metres: 80000, detour: 1.17, towing: 68, solo: 82},
}

// Estimator is the Router for when no roads have been imported. It is Roads as
// well: without a map a rig's size stops it nowhere.
type Estimator struct{}

// For is the estimator itself.
func (e Estimator) For(Rig) Router { return e }

// WhyNot knows of no reason.
func (Estimator) WhyNot(Profile, Place, Place) string { return "" }

// Table estimates every leg. It fails only for bad places or an ended context.
func (Estimator) Table(ctx context.Context, places []Place, p Profile) (*Table, error) {
	n := len(places)
	legs := make([]Leg, n*n)
	for i, from := range places {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !onEarth(from.At) {
			return nil, fmt.Errorf("routing: place %s has no position on Earth: %v", from.ID, from.At)
		}
		for j, to := range places {
			legs[i*n+j] = Estimate(from.At, to.At, p)
		}
	}
	return NewTable(places, legs)
}

func onEarth(p orb.Point) bool {
	return math.Abs(p.Lat()) <= 90 && math.Abs(p.Lon()) <= 180
}

// Estimate is the leg between two points without a map: great circle × detour
// factor, at the speed of that distance.
func Estimate(from, to orb.Point, p Profile) Leg {
	air := GreatCircle(from, to)
	c := classAt(air)
	road := air * c.detour
	speed := c.towing
	if p == Solo {
		speed = c.solo
	}
	return Leg{
		Seconds:   int32(math.Round(road / (speed / 3.6))),
		Metres:    int32(math.Round(road)),
		Estimate:  true,
		Reachable: true,
	}
}

// DetourFactor is the road metres expected for each great-circle metre of a
// drive of that great-circle length.
func DetourFactor(metres float64) float64 { return classAt(metres).detour }

func classAt(metres float64) class {
	if metres <= classes[0].metres {
		return classes[0]
	}
	for i := 1; i < len(classes); i++ {
		if a, b := classes[i-1], classes[i]; metres <= b.metres {
			return between(a, b, math.Log(metres/a.metres)/math.Log(b.metres/a.metres))
		}
	}
	return classes[len(classes)-1]
}

func between(a, b class, f float64) class {
	mix := func(x, y float64) float64 { return x + (y-x)*f }
	return class{
		detour: mix(a.detour, b.detour),
		towing: mix(a.towing, b.towing),
		solo:   mix(a.solo, b.solo),
	}
}
