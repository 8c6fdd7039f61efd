package billing

import (
	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// Work is what one visit did, or is expected to do: all that a price is made
// of. A signed docket gives it, and so does a booking form.
type Work struct {
	DocketID   booking.ID // "" for what is only expected
	Supersedes booking.ID // the docket this one corrects; "" for none
	FarmID     booking.ID
	YardID     booking.ID
	YardName   string
	RigID      booking.ID // that came; "" for what is only expected
	Day        civil.Date
	Lines      []WorkLine
	SetUp      bool // the rig was set up for this visit, not left standing from the day before
	WashDown   bool
}

// WorkLine is a count of one class through one service.
type WorkLine struct {
	Service string // code
	Name    string // of the service, as shown
	Class   booking.Class
	Head    int
}

// Trip is the drive from home to the yard and back.
type Trip struct {
	Metres   int64
	Known    bool // false where no way there is known: nothing is charged
	Estimate bool // not measured on roads
}
