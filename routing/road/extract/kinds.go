package extract

import (
	"math"
	"slices"
	"strings"

	"github.com/paulmach/osm"

	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// classes sorts Key:highway (wiki).
var classes = map[string]network.Class{
	"motorway": network.Motorway, "trunk": network.Trunk, "primary": network.Primary, "secondary": network.Secondary,
	"tertiary": network.Tertiary, "unclassified": network.Unclassified, "road": network.Unclassified,
	"residential": network.Residential, "living_street": network.LivingStreet, "service": network.Service, "track": network.Track,
}

// byLeave are ways that are no car roads unless their tags let cars in.
var byLeave = map[string]network.Class{
	"path": network.Track, "bridleway": network.Track, "cycleway": network.Service, "footway": network.Service,
	"pedestrian": network.Service, "busway": network.Service,
}

// lots are service roads on somebody's ground (Key:service).
var lots = []string{"driveway", "parking_aisle", "drive-through", "drive_through", "agricultural"}

// isCarRoad tells whether a way is for cars at all.
func isCarRoad(tags osm.Tags) bool {
	_, ok := classOf(tags)
	return ok
}

func classOf(tags osm.Tags) (network.Class, bool) {
	access, said := tag.MotorCar(tags)
	if said && access == tag.Closed && alongOrAgainst(tags) == tag.Closed {
		return 0, false
	}
	if tags.Find("route") == "ferry" {
		return network.Ferry, said && motorised(tags)
	}
	highway := tags.Find("highway")
	name, link := strings.CutSuffix(highway, "_link")
	if c, ok := classes[name]; ok && (!link || c <= network.Tertiary) {
		return serviceClass(tags, c), tags.Find("area") != "yes" && tags.Find("service") != "emergency_access"
	}
	c, ok := byLeave[highway]
	return c, ok && motorised(tags)
}

// serviceClass tells access roads from driveways.
func serviceClass(tags osm.Tags, c network.Class) network.Class {
	if c == network.Service && slices.Contains(lots, tags.Find("service")) {
		return network.Driveway
	}
	return c
}

// motorised tells whether a tag about motor vehicles lets them in.
func motorised(tags osm.Tags) bool {
	for _, key := range []string{"motorcar", "motor_vehicle"} {
		if v := tags.Find(key); v != "" {
			access, known := tag.MotorCar(osm.Tags{{Key: key, Value: v}})
			return known && access < tag.Closed
		}
	}
	return false
}

// alongOrAgainst is the better access of the two directions where they have
// tags of their own.
func alongOrAgainst(tags osm.Tags) tag.Access {
	best := tag.Closed
	for _, d := range []string{"forward", "backward"} {
		if a, said := tag.MotorCarWay(tags, d); said {
			best = min(best, a)
		}
	}
	return best
}

// kindOf reads everything a road's tags say.
func kindOf(tags osm.Tags) network.Kind {
	class, _ := classOf(tags)
	k := network.Kind{Class: class}
	k.Access = accessOf(tags, class)
	k.Surface, k.Grade, k.Roughness = groundOf(tags)
	k.Features = featuresOf(tags, class)
	setLimits(tags, &k)
	setSizes(tags, &k)
	if percent, ok := tag.Incline(tags.Find("incline")); ok {
		k.Incline = int8(math.Round(percent))
	}
	return k
}

// accessOf gives both directions. Tracks and driveways are somebody's: good
// for the first and last leg at most.
func accessOf(tags osm.Tags, class network.Class) [2]tag.Access {
	access, said := tag.MotorCar(tags)
	if !said {
		access = tag.Through
	}
	if class == network.Track || class == network.Driveway {
		access = max(access, tag.LegOnly)
	}
	both := [2]tag.Access{access, access}
	for i, d := range []string{"forward", "backward"} {
		if a, said := tag.MotorCarWay(tags, d); said {
			both[i] = a
		}
	}
	switch tag.OneWay(tags) {
	case tag.Forward:
		both[1] = tag.Closed
	case tag.Backward:
		both[0] = tag.Closed
	}
	return both
}

// Values of Key:surface, Key:tracktype and Key:smoothness (wiki).
var (
	surfaces = map[string]network.Surface{
		"paved": network.Paved, "asphalt": network.Paved, "concrete": network.Paved, "concrete:plates": network.Paved,
		"concrete:lanes": network.Paved, "paving_stones": network.Paved, "chipseal": network.Paved, "metal": network.Paved, "wood": network.Paved,
		"sett": network.Cobbles, "cobblestone": network.Cobbles, "unhewn_cobblestone": network.Cobbles, "bricks": network.Cobbles, "grass_paver": network.Cobbles,
		"compacted": network.Gravel, "fine_gravel": network.Gravel, "gravel": network.Gravel, "pebblestone": network.Gravel,
		"shells": network.Gravel, "unpaved": network.Gravel, "rock": network.Earth,
		"ground": network.Earth, "dirt": network.Earth, "earth": network.Earth, "grass": network.Earth, "clay": network.Earth,
		"mud": network.Soft, "sand": network.Soft, "snow": network.Soft, "ice": network.Soft,
	}
	grades    = map[string]uint8{"grade1": 1, "grade2": 2, "grade3": 3, "grade4": 4, "grade5": 5}
	roughness = map[string]uint8{"excellent": 1, "good": 2, "intermediate": 3, "bad": 4, "very_bad": 5, "horrible": 6, "very_horrible": 7, "impassable": 8}
)

func groundOf(tags osm.Tags) (network.Surface, uint8, uint8) {
	return surfaces[tags.Find("surface")], grades[tags.Find("tracktype")], roughness[tags.Find("smoothness")]
}
