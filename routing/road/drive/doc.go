// Package drive says how long a vehicle takes over each piece of road and each
// turn, and where it may not or cannot go.
//
// A Vehicle is what is driven: alone or with a trailer, with the size and mass
// of the whole train where they are known. Rules are the speed limits of a
// region, from a dated table with its source. A Profile is the two together.
//
// The speed on a road is the least of: the signed limit or the region's
// default; for trains, the signed and the regional limit for trailers; and
// what class, surface, track grade, smoothness, width and slope allow in
// practice. Practical speeds and the seconds for turns, gates, grids, fords
// and turning round are common practice without a source; they are constants
// in this package and nowhere else.
//
// Costs are milliseconds and decimetres in one number, so that of two equally
// quick ways the shorter wins and every answer is exact to the last bit.
// What is computed here plans a day. It does not replace reading the signs,
// the handbook of the vehicle and trailer, or the driver's judgement.
package drive
