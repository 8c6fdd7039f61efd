package season

import (
	"math"
	"time"
)

const radians = math.Pi / 180

// sunAt gives the sun's declination in radians and the equation of time in
// minutes at an instant. It follows the low-accuracy series that NOAA's solar
// calculation publishes (after Meeus, Astronomical Algorithms, chapters 25
// and 28): better than 0.01 degrees between 1800 and 2100.
func sunAt(t time.Time) (declination, equation float64) {
	c := centuries(t)
	meanLongitude := (280.46646 + c*(36000.76983+c*0.0003032)) * radians
	anomaly := (357.52911 + c*(35999.05029-c*0.0001537)) * radians
	eccentricity := 0.016708634 - c*(0.000042037+c*0.0000001267)
	node := (125.04 - 1934.136*c) * radians // of the moon's orbit, for nutation

	centre := math.Sin(anomaly)*(1.914602-c*(0.004817+c*0.000014)) +
		math.Sin(2*anomaly)*(0.019993-c*0.000101) + math.Sin(3*anomaly)*0.000289
	apparent := meanLongitude + (centre-0.00569-0.00478*math.Sin(node))*radians
	tilt := obliquity(c, node)

	declination = math.Asin(math.Sin(tilt) * math.Sin(apparent))
	return declination, equationOfTime(meanLongitude, anomaly, eccentricity, tilt)
}

// centuries since noon of 1 January 2000, in Julian centuries.
func centuries(t time.Time) float64 {
	const epoch = 946728000 // 2000-01-01 12:00 UTC
	seconds := float64(t.Unix()-epoch) + float64(t.Nanosecond())/1e9
	return seconds / (36525 * 86400)
}

// obliquity of the ecliptic in radians, with the main term of nutation.
func obliquity(c, node float64) float64 {
	arcseconds := 21.448 - c*(46.815+c*(0.00059-c*0.001813))
	return (23 + (26+arcseconds/60)/60 + 0.00256*math.Cos(node)) * radians
}

// equationOfTime is how far a sundial is ahead of a clock, in minutes.
func equationOfTime(longitude, anomaly, eccentricity, tilt float64) float64 {
	y := math.Pow(math.Tan(tilt/2), 2)
	e := eccentricity
	angle := y*math.Sin(2*longitude) - 2*e*math.Sin(anomaly) +
		4*e*y*math.Sin(anomaly)*math.Cos(2*longitude) -
		y*y*math.Sin(4*longitude)/2 - 1.25*e*e*math.Sin(2*anomaly)
	return 4 * angle / radians // the sky turns a degree in four minutes
}
