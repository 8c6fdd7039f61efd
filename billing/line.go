package billing

import (
	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// Line is one charge: Quantity × Rate is Net, rounded once.
type Line struct {
	Kind     LineKind
	Text     string // short: "Drench, ewes"
	Why      string // a sentence a farmer can follow with a pencil
	Quantity int64  // whole units
	Unit     Unit
	Rate     Rate // money for one unit
	Net      Money
	Tax      Tax

	// Where the charge comes from; empty for what is only expected.
	DocketID booking.ID
	Day      civil.Date // when the work was done
	Yard     string

	Credits int // on a credit note: the number of the invoice's line it takes back, from 1
}

// LineKind says what is charged; the price list taxes each kind.
type LineKind string

// The kinds of line, in the order they stand in.
const (
	ForWork     LineKind = "work"
	ForSetUp    LineKind = "set-up"
	ForWashDown LineKind = "wash-down"
	ForMinimum  LineKind = "minimum" // what the visit lacks of the minimum charge; taxed as work
	ForTravel   LineKind = "travel"
)

// Unit is what a quantity counts.
type Unit string

// The units.
const (
	Head       Unit = "head"
	Visit      Unit = "visit"
	Kilometres Unit = "km"
	Miles      Unit = "mi"
)

// metres in a unit of length. Source: the international mile, 1959 agreement.
var metres = map[Unit]float64{Kilometres: 1000, Miles: 1609.344}
