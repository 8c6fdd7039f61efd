package season

import (
	"math"
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
)

// Light is the daylight of one day at one place.
type Light struct {
	Sun   Span // from sunrise to sunset
	Civil Span // from civil dawn to civil dusk: light enough for ordinary work outdoors
	Noon  time.Time
}

// Span is a stretch of light. Where the sun stays up it reaches from one
// solar midnight to the next; where it never comes up it is empty, at noon.
type Span struct {
	From, To time.Time // UTC, to the second
	Kind     SpanKind
}

// SpanKind says whether the sun crosses the height in question on that day.
type SpanKind string

// The kinds of span.
const (
	Ordinary SpanKind = "ordinary" // it comes up, goes down, or both
	AllDay   SpanKind = "all day"  // polar day: it stays up
	Never    SpanKind = "never"    // polar night: it stays down
)

// Length of the span.
func (s Span) Length() time.Duration { return s.To.Sub(s.From) }

// Zenith distances in degrees. Sunrise and sunset: 34' of refraction and 16'
// for the upper edge of the disc. Civil twilight by definition. Source:
// Almanac for Computers 1990, United States Naval Observatory.
const (
	horizon   = 90 + 50.0/60
	civilDusk = 96.0
)

// Daylight gives sunrise, sunset and civil twilight around the solar noon of
// a calendar day in the zone, for a lon, lat position at sea level with a flat
// horizon. Times follow NOAA's solar calculation: within a minute of almanacs
// up to 72 degrees of latitude, within some minutes beyond. Errors are
// fault.Invalid with the fields "day", "position" and "zone".
func Daylight(day civil.Date, at orb.Point, zone *time.Location) (Light, error) {
	f := fault.Fields{}
	if !day.IsValid() {
		f.Add("day", "Give a day of the calendar.")
	}
	if lon, lat := at.Lon(), at.Lat(); !(lon >= -180 && lon <= 180 && lat >= -90 && lat <= 90) {
		f.Add("position", "Give the longitude from -180 to 180 and the latitude from -90 to 90 degrees.")
	}
	if zone == nil {
		f.Add("zone", "Give the time zone whose calendar the day is in.")
	}
	if err := f.Err(); err != nil {
		return Light{}, err
	}
	sky := skyOver(day, at, zone)
	return Light{Sun: sky.span(horizon), Civil: sky.span(civilDusk), Noon: sky.noon()}, nil
}

// sky is one day's turn of the sun over a place.
type sky struct {
	mean     time.Time // noon of the mean sun
	latitude float64   // radians
}

// skyOver finds the mean solar noon nearest to the middle of the day in zone.
func skyOver(day civil.Date, at orb.Point, zone *time.Location) sky {
	midday := time.Date(day.Year, day.Month, day.Day, 12, 0, 0, 0, zone).UTC()
	sinceMidnight := midday.Sub(midday.Truncate(24 * time.Hour)).Minutes()
	ahead := sinceMidnight + 4*at.Lon() - 12*60 // of mean solar noon
	ahead -= 24 * 60 * math.Round(ahead/(24*60))
	return sky{mean: midday.Add(minutes(-ahead)), latitude: at.Lat() * radians}
}

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }

// noon is when the sun is highest, bar seconds.
func (s sky) noon() time.Time {
	_, equation := sunAt(s.mean)
	return s.mean.Add(minutes(-equation)).Round(time.Second)
}

// span is the time the sun spends nearer than zenith degrees to overhead.
func (s sky) span(zenith float64) Span {
	from, rises := s.crossing(zenith, -1)
	to, sets := s.crossing(zenith, +1)
	kind := Ordinary
	switch {
	case rises < -1 && sets < -1:
		kind = AllDay
	case rises > 1 && sets > 1:
		kind = Never
	}
	return Span{From: from, To: to, Kind: kind}
}

// crossing steps towards the moment before (-1) or after (+1) noon at which
// the sun is at the zenith distance. It also gives the cosine of the hour
// angle there, beyond ±1 where the sun does not get there.
func (s sky) crossing(zenith float64, side float64) (at time.Time, cosine float64) {
	const enough = 8 // halves of a second are reached after three, save near the polar circle
	at = s.mean
	for range enough {
		declination, equation := sunAt(at)
		cosine = (math.Cos(zenith*radians) - math.Sin(s.latitude)*math.Sin(declination)) /
			(math.Cos(s.latitude) * math.Cos(declination))
		angle := math.Acos(max(-1, min(1, cosine))) / radians
		at = s.mean.Add(minutes(side*4*angle - equation))
	}
	return at.Round(time.Second), cosine
}
