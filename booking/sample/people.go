package sample

import (
	"fmt"
	"sync/atomic"

	"drawbar/booking"

	"github.com/paulmach/orb"
)

var made atomic.Int64

// next numbers what is made, so that names and addresses differ.
func next() int64 { return made.Add(1) }

// Business is a contractor on the Delmarva peninsula.
func Business() booking.Business {
	return booking.Business{
		Name: "Coverdale Sheep Work", Address: "4 Sorrel Lane\nHarbeson", Email: "office@coverdale.example", Phone: "302 555 0100",
		TaxID: "00-0000000", Zone: "America/New_York", Country: "US", Currency: "USD",
		HomeName: "Sorrel Lane", Home: orb.Point{-75.43, 38.72}, FarmersChoose: true,
	}
}

// Person works for the business in the role, with no skills.
func Person(role booking.Role) booking.Person {
	n := next()
	return booking.Person{
		ID: booking.NewID(), Name: fmt.Sprintf("Nell Arkwright %d", n), Email: fmt.Sprintf("nell%d@coverdale.example", n),
		Phone: "302 555 0101", Role: role, Active: true,
	}
}

// Farm is a customer with no signs of disease.
func Farm() booking.Farm {
	n := next()
	return booking.Farm{
		ID: booking.NewID(), Name: fmt.Sprintf("Alder Fold %d", n), Contact: "Tamsin Whitlock",
		Email: fmt.Sprintf("tamsin%d@alderfold.example", n), Phone: "302 555 0102", Address: "9 Alder Fold",
		Hygiene: booking.NoSigns, Notes: "Ring the day before.",
	}
}

// Yard of a farm: level concrete, room for any rig.
func Yard(farm booking.Farm) booking.Yard {
	return booking.Yard{
		ID: booking.NewID(), FarmID: farm.ID, Name: "Home yard", At: orb.Point{-75.55, 38.91}, GateWidth: 4.2, TrainLength: 15,
		Surface: booking.Concrete, Turning: true, Lights: true, Power: true, Forks: true, Helper: true, Overnight: true,
		Access: "Second gate on the left.",
	}
}
