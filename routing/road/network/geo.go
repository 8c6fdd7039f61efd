package network

import "math"

// radius is the mean radius of the Earth in decimetres (IUGG R1, 6371008.8 m).
const radius = 63710088.0

const rad = math.Pi / 180 / 1e6

// Distance is the great-circle distance in decimetres, by the haversine
// formula.
func Distance(a, b Point) float64 {
	lat1, lat2 := float64(a.Lat)*rad, float64(b.Lat)*rad
	sinLat := math.Sin((lat2 - lat1) / 2)
	sinLon := math.Sin(float64(b.Lon-a.Lon) * rad / 2)
	h := sinLat*sinLat + math.Cos(lat1)*math.Cos(lat2)*sinLon*sinLon
	return 2 * radius * math.Asin(math.Sqrt(min(h, 1)))
}

// Length is the length of a line in decimetres.
func Length(line []Point) (sum float64) {
	for i := 1; i < len(line); i++ {
		sum += Distance(line[i-1], line[i])
	}
	return sum
}

// flat is the vector from a to b in decimetres, east and north, good over
// short distances.
func flat(a, b Point) (east, north float64) {
	shrink := math.Cos(float64(a.Lat) * rad)
	return float64(b.Lon-a.Lon) * rad * radius * shrink, float64(b.Lat-a.Lat) * rad * radius
}

// sight is how far along a road its bearing at an end is taken, decimetres.
const sight = 120

// bearing is the direction in degrees, east 0, anticlockwise, in which a line
// leaves its first point. A line of no length has none.
func bearing(line []Point) (degrees float64, ok bool) {
	for _, p := range line[1:] {
		east, north := flat(line[0], p)
		if math.Hypot(east, north) >= sight || p == line[len(line)-1] && (east != 0 || north != 0) {
			return math.Atan2(north, east) * 180 / math.Pi, true
		}
	}
	return 0, false
}
