package season_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"drawbar/booking/fault"
	"drawbar/booking/season"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func date(text string) civil.Date {
	d, err := civil.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

func daylight(t testing.TB, day string, at orb.Point, zone *time.Location) season.Light {
	t.Helper()
	light, err := season.Daylight(date(day), at, zone)
	if err != nil {
		t.Fatal(err)
	}
	return light
}

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func ExampleDaylight() {
	utc7 := time.FixedZone("UTC-7", -7*3600)
	light, _ := season.Daylight(civil.Date{Year: 2003, Month: time.October, Day: 17}, orb.Point{-105.1786, 39.742476}, utc7)
	fmt.Println(light.Sun.From.In(utc7).Format(time.TimeOnly), light.Sun.To.In(utc7).Format(time.TimeOnly))
	// Output: 06:12:43 17:18:51
}

func TestPublishedSunTimes(t *testing.T) {
	utc7 := time.FixedZone("UTC-7", -7*3600)
	golden := orb.Point{-105.1786, 39.742476}
	greenwich := orb.Point{0, 51.467}
	london := orb.Point{-0.1278, 51.5074}
	rise := func(l season.Light) time.Time { return l.Sun.From }
	set := func(l season.Light) time.Time { return l.Sun.To }
	dawn := func(l season.Light) time.Time { return l.Civil.From }
	for _, c := range []struct {
		source string
		day    string
		at     orb.Point
		zone   *time.Location
		event  func(season.Light) time.Time
		want   string // clock in the zone
		within time.Duration
	}{
		// NREL/TP-560-34302 (Reda & Andreas 2008), appendix: 17 Oct 2003.
		{"NREL sunrise", "2003-10-17", golden, utc7, rise, "06:12:43", 10 * time.Second},
		// The sunset printed there belongs to the UT day: the evening of the
		// 16th by local calendar.
		{"NREL sunset, UT day", "2003-10-16", golden, utc7, set, "17:20:19", 10 * time.Second},
		// That the evening of the 17th is 17:18:51 is arithmetic by another
		// program on the same published series, not a published value.
		{"local evening", "2003-10-17", golden, utc7, set, "17:18:51", 10 * time.Second},
		// Almanac for Computers 1990 (USNO), worked example; good to 2 minutes.
		{"almanac example", "1990-06-25", orb.Point{-74.3, 40.9}, time.UTC, rise, "09:26:00", 2 * time.Minute},
		// London civil dawn 2015, from the tests of an open sun library; ±1 min.
		{"London dawn 1 Dec", "2015-12-01", london, time.UTC, dawn, "07:04:00", 75 * time.Second},
		{"London dawn 12 Dec", "2015-12-12", london, time.UTC, dawn, "07:16:00", 75 * time.Second},
		{"London dawn 25 Dec", "2015-12-25", london, time.UTC, dawn, "07:25:00", 75 * time.Second},
		// Greenwich 2013, from the tests of the Perl module Astro::Sunrise.
		{"Greenwich 1 Jan rise", "2013-01-01", greenwich, time.UTC, rise, "08:05:00", 75 * time.Second},
		{"Greenwich 1 Jan set", "2013-01-01", greenwich, time.UTC, set, "16:02:00", 75 * time.Second},
		{"Greenwich 21 Mar rise", "2013-03-21", greenwich, time.UTC, rise, "06:00:00", 75 * time.Second},
		{"Greenwich 21 Mar set", "2013-03-21", greenwich, time.UTC, set, "18:15:00", 75 * time.Second},
		{"Greenwich 21 Jun rise", "2013-06-21", greenwich, time.UTC, rise, "03:43:00", 75 * time.Second},
		{"Greenwich 21 Jun set", "2013-06-21", greenwich, time.UTC, set, "20:21:00", 75 * time.Second},
	} {
		t.Run(c.source, func(t *testing.T) {
			got := c.event(daylight(t, c.day, c.at, c.zone))
			want, err := time.ParseInLocation("2006-01-02 15:04:05", c.day+" "+c.want, c.zone)
			if err != nil {
				t.Fatal(err)
			}
			if off := got.Sub(want).Abs(); off > c.within {
				t.Errorf("got %s, off by %s", got.In(c.zone).Format("2006-01-02 15:04:05"), off)
			}
			if got.Location() != time.UTC {
				t.Errorf("instant comes in %s", got.Location())
			}
		})
	}
}

// The test of Astro::Sunrise has no nautical twilight (-12 degrees) at 64 N
// on 21 June; so civil twilight (-6) does not end there either.
func TestWhiteNight(t *testing.T) {
	light := daylight(t, "2013-06-21", orb.Point{0, 64}, time.UTC)
	if light.Civil.Kind != season.AllDay || light.Sun.Kind != season.Ordinary {
		t.Errorf("civil %s, sun %s", light.Civil.Kind, light.Sun.Kind)
	}
	if got := light.Civil.Length(); (got - 24*time.Hour).Abs() > 2*time.Minute {
		t.Errorf("twilight lasts %s", got)
	}
}

// At 78.2 N the sun does not set from about 20 April to 22 August and does
// not rise from about 26 October to 16 February; civil twilight is gone from
// about 14 November to 29 January (from memory; the days chosen lie well inside).
func TestFarNorth(t *testing.T) {
	oslo := zone(t, "Europe/Oslo")
	for _, c := range []struct {
		day        string
		sun, civil season.SpanKind
	}{
		{"2026-06-21", season.AllDay, season.AllDay},
		{"2026-12-21", season.Never, season.Never},
		{"2026-11-04", season.Never, season.Ordinary},
		{"2026-03-20", season.Ordinary, season.Ordinary},
	} {
		light := daylight(t, c.day, orb.Point{15.6, 78.2}, oslo)
		if light.Sun.Kind != c.sun || light.Civil.Kind != c.civil {
			t.Errorf("%s: sun %s, civil %s", c.day, light.Sun.Kind, light.Civil.Kind)
		}
		if c.sun == season.Never && light.Sun.Length() != 0 {
			t.Errorf("%s: sun stays down for %s of light", c.day, light.Sun.Length())
		}
	}
}

func TestPoles(t *testing.T) {
	for _, lat := range []float64{90, -90} {
		light := daylight(t, "2026-06-21", orb.Point{0, lat}, time.UTC)
		want := map[float64]season.SpanKind{90: season.AllDay, -90: season.Never}[lat]
		if light.Sun.Kind != want {
			t.Errorf("at %g the sun is up %s", lat, light.Sun.Kind)
		}
	}
}

func TestDaylightNamesWhatIsWrong(t *testing.T) {
	good, here := date("2026-06-01"), orb.Point{-75.5, 38.9}
	for _, c := range []struct {
		day   civil.Date
		at    orb.Point
		zone  *time.Location
		field string
	}{
		{civil.Date{Year: 2026, Month: 2, Day: 30}, here, time.UTC, "day"},
		{good, orb.Point{181, 0}, time.UTC, "position"},
		{good, orb.Point{0, math.NaN()}, time.UTC, "position"},
		{good, orb.Point{0, -90.5}, time.UTC, "position"},
		{good, here, nil, "zone"},
	} {
		_, err := season.Daylight(c.day, c.at, c.zone)
		if !fault.Is(err, fault.Invalid) || fault.FieldsOf(err)[c.field] == "" {
			t.Errorf("%v %v: %v names %v", c.day, c.at, err, fault.FieldsOf(err))
		}
	}
}

// The referee is another set of formulas: the low-precision sun and sidereal
// time of the Astronomical Almanac (section C, good to 0.01 degrees from 1950
// to 2050; from memory). At the times we give, its sun has to stand at the
// height that defines them.
func TestSunStandsWhereTheAlmanacPutsIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := date("1950-01-01").AddDays(rapid.IntRange(0, 36524).Draw(t, "day"))
		at := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-60, 60).Draw(t, "lat")}
		z := time.FixedZone("local", int(math.Round(at.Lon()/15))*3600)
		light, err := season.Daylight(day, at, z)
		if err != nil {
			t.Fatal(err)
		}
		for name, c := range map[string]struct {
			at     time.Time
			height float64
		}{
			"sunrise": {light.Sun.From, -5.0 / 6}, "sunset": {light.Sun.To, -5.0 / 6},
			"dawn": {light.Civil.From, -6}, "dusk": {light.Civil.To, -6},
		} {
			if got := almanacHeight(c.at, at); math.Abs(got-c.height) > 0.03 {
				t.Errorf("%s at %s: the sun is at %.3f degrees", name, c.at, got)
			}
		}
		if civil.DateOf(light.Noon.In(z)) != day {
			t.Errorf("noon %s is not on %s", light.Noon.In(z), day)
		}
		order := []time.Time{light.Civil.From, light.Sun.From, light.Noon, light.Sun.To, light.Civil.To}
		for i := 1; i < len(order); i++ {
			if !order[i-1].Before(order[i]) {
				t.Errorf("out of order: %v", order)
			}
		}
	})
}

// almanacHeight is the height of the sun's centre in degrees, unrefracted.
func almanacHeight(t time.Time, at orb.Point) float64 {
	const deg = math.Pi / 180
	n := float64(t.Unix()-946728000) / 86400
	g := (357.528 + 0.9856003*n) * deg
	longitude := (280.460 + 0.9856474*n + 1.915*math.Sin(g) + 0.020*math.Sin(2*g)) * deg
	tilt := (23.439 - 0.0000004*n) * deg
	ascension := math.Atan2(math.Cos(tilt)*math.Sin(longitude), math.Cos(longitude))
	declination := math.Asin(math.Sin(tilt) * math.Sin(longitude))
	sidereal := (18.697374558 + 24.06570982441908*n) * 15 * deg
	hour := sidereal + at.Lon()*deg - ascension
	lat := at.Lat() * deg
	return math.Asin(math.Sin(lat)*math.Sin(declination)+math.Cos(lat)*math.Cos(declination)*math.Cos(hour)) / deg
}

// Whatever is asked of a place on Earth, the answer is in order and no longer
// than a day.
func TestDaylightEverywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := date("1900-01-01").AddDays(rapid.IntRange(0, 73000).Draw(t, "day"))
		at := orb.Point{rapid.Float64Range(-180, 180).Draw(t, "lon"), rapid.Float64Range(-90, 90).Draw(t, "lat")}
		z := time.FixedZone("local", rapid.IntRange(-12, 14).Draw(t, "zone")*3600)
		light, err := season.Daylight(day, at, z)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []season.Span{light.Sun, light.Civil} {
			if s.Length() < 0 || s.Length() > 24*time.Hour+2*time.Minute {
				t.Errorf("a span of %s", s.Length())
			}
		}
		if light.Civil.Length() < light.Sun.Length()-time.Second { // each end is rounded
			t.Errorf("the sun is up %s but light lasts %s", light.Sun.Length(), light.Civil.Length())
		}
	})
}

func BenchmarkDaylight(b *testing.B) {
	day, at := date("2026-06-21"), orb.Point{-75.5, 38.9}
	for b.Loop() {
		if _, err := season.Daylight(day, at, time.UTC); err != nil {
			b.Fatal(err)
		}
	}
}
