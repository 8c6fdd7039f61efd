package jobs

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"github.com/google/uuid"
)

// Event is one thing that happened on a visit. The phone makes its id, a
// UUIDv7, before anything is sent, so a resend is recognised.
type Event struct {
	ID       booking.ID
	VisitID  booking.ID
	Device   string     // the phone, by an id it made for itself
	Person   booking.ID // who was signed in when it was sent
	Seq      int        // counts up on the phone
	At       time.Time  // by the phone's clock, whole milliseconds
	Received time.Time  // by the server's
	Kind     Kind
	What     Payload // nil for kinds that say it all
	Late     bool    // arrived after the docket was signed
}

// Kind of event.
type Kind string

// The kinds. Append only: phones may bring old ones back after days.
const (
	Arrived   Kind = "arrived"
	SetUp     Kind = "set up" // done setting up
	Started   Kind = "started"
	Counted   Kind = "counted"
	Paused    Kind = "paused"
	Resumed   Kind = "resumed"
	Finished  Kind = "finished"
	Packed    Kind = "packed" // done packing down
	Left      Kind = "left"
	Treated   Kind = "treatment"
	Noted     Kind = "note"
	Happened  Kind = "incident"
	AddedMob  Kind = "mob added" // animals nobody had booked
	SignedFor Kind = "signature"
	StruckOut Kind = "struck" // takes back another event
	HandsTold Kind = "hands"  // who came, where that is not as planned
)

// FollowsSigning tells whether the kind usually comes after the farmer has
// signed; such events need no correction.
func (k Kind) FollowsSigning() bool { return k == Packed || k == Left }

// Payload is what an event of some kind says beyond its kind.
type Payload interface {
	check(f fault.Fields)
}

// Limits of an event.
const (
	MaxAhead  = 24 * time.Hour // how far a phone's clock may run ahead
	maxDevice = 64
	maxSeq    = 1 << 31
)

// earliest is before any phone that runs this could have made an event.
var earliest = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)

// Check says what is wrong with the event, field by field, at a moment of the
// server's clock.
func (e Event) Check(now time.Time) error {
	f := fault.Fields{}
	if !madeOnPhone(e.ID) {
		f.Add("id", "The id is not a UUIDv7 in small letters.")
	}
	if _, ok := booking.ParseID(string(e.VisitID)); !ok {
		f.Add("visit", "The event does not say which visit it belongs to.")
	}
	f.Text("device", e.Device, maxDevice, fault.Required)
	f.Range("seq", float64(e.Seq), 0, maxSeq, "a count on the phone")
	switch {
	case e.At.Before(earliest):
		f.Add("at", "The phone's clock was not set when this was recorded; set it and record this again.")
	case e.At.After(now.Add(MaxAhead)):
		f.Add("at", "The phone's clock was more than a day ahead when this was recorded; set it and record this again.")
	}
	e.checkWhat(f)
	return f.Err()
}

func (e Event) checkWhat(f fault.Fields) {
	decode, known := payloads[e.Kind]
	switch {
	case !known:
		f.Add("kind", "This program does not know events of this kind; a newer one may.")
	case decode == nil && e.What != nil:
		f.Add("what", "An event of this kind has nothing more to say.")
	case decode != nil && e.What == nil:
		f.Add("what", "The event does not say what happened.")
	case decode != nil:
		e.What.check(f)
	}
}

func madeOnPhone(id booking.ID) bool {
	if _, ok := booking.ParseID(string(id)); !ok {
		return false
	}
	return uuid.MustParse(string(id)).Version() == 7
}
