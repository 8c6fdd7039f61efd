package extract

import (
	"strings"

	"github.com/paulmach/osm"

	"drawbar/routing/road/network"
	"drawbar/routing/road/tag"
)

// oneLane is the width in metres below which two cars do not pass. Common
// practice, no source.
const oneLane = 3.5

func featuresOf(tags osm.Tags, class network.Class) network.Feature {
	var f network.Feature
	add := func(when bool, x network.Feature) {
		if when {
			f |= x
		}
	}
	is := func(key string, values ...string) bool {
		v := tags.Find(key)
		for _, x := range values {
			if v == x {
				return true
			}
		}
		return false
	}
	oneway := tag.OneWay(tags) != tag.Both
	add(is("ford", "yes", "intermittent"), network.Ford)
	add(tags.Find("bridge") != "" && !is("bridge", "no"), network.Bridge)
	add(tags.Find("tunnel") != "" && !is("tunnel", "no", "culvert"), network.Tunnel)
	add(is("toll", "yes"), network.Toll)
	add(is("junction", "roundabout", "circular"), network.Roundabout)
	add(strings.HasSuffix(tags.Find("highway"), "_link"), network.Link)
	add(is("dual_carriageway", "yes") || oneway && class <= network.Secondary && f&(network.Roundabout|network.Link) == 0, network.Dual)
	add(urban(tags, class), network.Urban)
	width, measured := tag.Length(tags.Find("width"))
	add(!oneway && (is("lanes", "1") || measured && width < oneLane), network.Lane)
	add(is("trailer", "no") || is("caravan", "no"), network.NoTow)
	return f
}

// zones are the keys that name the kind of limit a road has (Key:maxspeed).
var zones = []string{"maxspeed", "maxspeed:type", "source:maxspeed", "zone:traffic", "zone:maxspeed"}

// urban tells whether the limits of a built-up area hold.
func urban(tags osm.Tags, class network.Class) bool {
	for _, key := range zones {
		_, zone, found := strings.Cut(tags.Find(key), ":")
		switch {
		case found && (zone == "urban" || strings.HasPrefix(zone, "zone")):
			return true
		case found && zone == "rural":
			return false
		}
	}
	return class == network.Residential || class == network.LivingStreet || tags.Find("abutters") == "residential"
}

// setLimits reads signed speeds. A trailer's own limit is the lowest of those
// tagged for trailers and caravans and any with the plain condition "trailer".
func setLimits(tags osm.Tags, k *network.Kind) {
	if k.Class == network.Ferry {
		return // a ferry's speed follows from its duration and length
	}
	for d, suffix := range []string{":forward", ":backward"} {
		k.Limit[d] = firstSpeed(tags, "maxspeed"+suffix, "maxspeed:motorcar", "maxspeed")
		for _, key := range []string{"maxspeed:trailer", "maxspeed:caravan", "maxspeed:trailer" + suffix} {
			k.TowLimit[d] = lower(k.TowLimit[d], firstSpeed(tags, key))
		}
		for _, c := range tag.Clauses(tags.Find("maxspeed:conditional")) {
			if v, ok := tag.Speed(c.Value); ok && c.TrailerOnly() {
				k.TowLimit[d] = lower(k.TowLimit[d], uint16(v+0.5))
			}
		}
	}
}

func firstSpeed(tags osm.Tags, keys ...string) uint16 {
	for _, key := range keys {
		if v, ok := tag.Speed(tags.Find(key)); ok {
			return max(1, uint16(v+0.5))
		}
	}
	return 0
}

// lower is the lower of two limits, 0 being none.
func lower(a, b uint16) uint16 {
	if a == 0 || b != 0 && b < a {
		return b
	}
	return a
}

// setSizes reads what stops a large train (Key:maxweight and its like). An
// axle limit counts as three times itself: car and trailer have three axles
// or more.
func setSizes(tags osm.Tags, k *network.Kind) {
	weight := func(key string, times float64) {
		if v, ok := tag.Mass(tags.Find(key)); ok && v*times < 1e6 && (k.MaxKg == 0 || v*times < float64(k.MaxKg)) {
			k.MaxKg = uint32(v * times)
		}
	}
	weight("maxweight", 1)
	weight("maxaxleload", 3)
	size := func(to *uint16, keys ...string) {
		for _, key := range keys {
			if v, ok := tag.Length(tags.Find(key)); ok && v < 100 {
				*to = lower(*to, max(1, uint16(v*100+0.5)))
			}
		}
	}
	size(&k.MaxHeight, "maxheight", "maxheight:physical")
	size(&k.MaxWidth, "maxwidth", "maxwidth:physical")
	size(&k.MaxLength, "maxlength")
	size(&k.Width, "width")
}
