package drive

import "drawbar/routing/road/contract"

// Cost is milliseconds in the upper and decimetres in the lower half of one
// number: costs add, and compare by time first, then by distance.
type Cost = uint64

// Inf is the cost of what cannot be driven.
const Inf Cost = contract.Inf

// Pack makes a cost. Both parts must be at least 0; together a journey may
// take 12 days and 400,000 km.
func Pack(millis, decimetres int64) Cost { return Cost(millis)<<32 | Cost(decimetres) }

// Millis is the time in a cost.
func Millis(c Cost) int64 { return int64(c >> 32) }

// Decimetres is the distance in a cost.
func Decimetres(c Cost) int64 { return int64(c & (1<<32 - 1)) }

// Part is the share part/whole of a cost, rounded down in each half.
func Part(c Cost, part, whole int64) Cost {
	if whole == 0 {
		return 0
	}
	return Pack(Millis(c)*part/whole, Decimetres(c)*part/whole)
}
