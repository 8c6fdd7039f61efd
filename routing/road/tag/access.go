package tag

import "strings"

// Access is how far a driver may use a road.
type Access uint8

// From free to closed, so that the stricter of two is the greater.
const (
	Through Access = iota // any journey
	LegOnly               // only to get to or away from a place on it
	Closed                // not at all
)

// Tags looks up a tag's value, "" without one.
type Tags interface{ Find(key string) string }

// accessValues sorts the values of Key:access (wiki). "destination",
// "customers", "delivery" are for those with business there; "private" and the
// farming ones need leave, which a contractor on the way to a farm has.
var accessValues = map[string]Access{
	"yes": Through, "permissive": Through, "designated": Through, "official": Through, "public": Through,
	"destination": LegOnly, "customers": LegOnly, "delivery": LegOnly, "private": LegOnly, "permit": LegOnly,
	"agricultural": LegOnly, "forestry": LegOnly, "residents": LegOnly, "unknown": LegOnly,
	"no": Closed, "emergency": Closed, "military": Closed, "use_sidepath": Closed,
}

// MotorCar reads the access of a car, the most particular tag first (wiki:
// Key:access, hierarchy of land-based transport). Without a tag that says
// something it is not ok.
func MotorCar(tags Tags) (Access, bool) { return first(tags, "", carKeys) }

// MotorCarWay is MotorCar for one direction of a way, "forward" or "backward".
func MotorCarWay(tags Tags, direction string) (Access, bool) {
	return first(tags, ":"+direction, carKeys)
}

var carKeys = []string{"motorcar", "motor_vehicle", "vehicle", "access"}

func first(tags Tags, suffix string, keys []string) (Access, bool) {
	for _, k := range keys {
		if v := tags.Find(k + suffix); v != "" {
			if a, known := oneOf(v); known {
				return a, true
			}
		}
	}
	return Closed, false
}

// oneOf reads a list of values; any that lets us in is enough.
func oneOf(v string) (Access, bool) {
	best, known := Closed, false
	for _, part := range strings.Split(v, ";") {
		if a, ok := accessValues[strings.TrimSpace(part)]; ok {
			best, known = min(best, a), true
		}
	}
	return best, known
}

// Direction is which way a road may be driven.
type Direction int8

// Both ways, only along the way as drawn, or only against it.
const (
	Backward Direction = -1
	Both     Direction = 0
	Forward  Direction = 1
)

// OneWay reads Key:oneway (wiki), with what is implied on motorways and
// roundabouts. Roads whose direction changes by the hour count as both ways.
func OneWay(tags Tags) Direction {
	for _, key := range []string{"oneway:motorcar", "oneway:motor_vehicle", "oneway"} {
		switch tags.Find(key) {
		case "yes", "true", "1":
			return Forward
		case "-1", "reverse":
			return Backward
		case "no", "false", "0", "reversible", "alternating":
			return Both
		}
	}
	if j := tags.Find("junction"); j == "roundabout" || j == "circular" || tags.Find("highway") == "motorway" {
		return Forward
	}
	return Both
}
