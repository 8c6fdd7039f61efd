package booking

import (
	"time"

	"cloud.google.com/go/civil"
)

// Visit is one rig at one yard on one day. It holds the rig from Arrive to
// Leave; two live visits of a rig never overlap.
type Visit struct {
	ID        ID
	BookingID ID
	FarmID    ID
	YardID    ID
	RigID     ID
	Day       civil.Date // in the business's zone
	Part      int        // 1 of Parts
	Parts     int
	Head      int // how many of the booking's animals this visit is for
	State     VisitState
	Arrive    time.Time
	SetUp     time.Duration
	Work      time.Duration // median, with breaks
	WorkLong  time.Duration // 90 % of visits are done in this
	PackDown  time.Duration
	WashDown  time.Duration
	Overnight bool // the rig stays at the yard after this visit
	Lodged    bool // and so does its crew, nearby; else it drives home without the rig
	Version   int
}

// VisitState is where a visit has got to.
type VisitState string

// The states of a visit.
const (
	Pencilled VisitState = "pencilled"  // placed, may still move
	Fixed     VisitState = "fixed"      // promised to the farmer
	UnderWay  VisitState = "under way"  // the rig has arrived
	SignedOff VisitState = "signed off" // the docket is signed
	CalledOff VisitState = "called off" // will not happen; holds no time
)

// Live tells whether the visit holds its rig's time.
func (s VisitState) Live() bool { return s != CalledOff }

// Movable tells whether a plan may still move the visit.
func (s VisitState) Movable() bool { return s == Pencilled }

// Working is when the first animal is due in the crate.
func (v Visit) Working() time.Time { return v.Arrive.Add(v.SetUp) }

// Finish is when the work is done as likely as not.
func (v Visit) Finish() time.Time { return v.Working().Add(v.Work) }

// FinishLate is when the work is done in nine visits of ten.
func (v Visit) FinishLate() time.Time { return v.Working().Add(v.WorkLong) }

// Leave is when the rig is free again. A rig that stays the night is packed
// down and washed the next morning, if it moves on.
func (v Visit) Leave() time.Time {
	if v.Overnight {
		return v.Finish()
	}
	return v.Finish().Add(v.PackDown + v.WashDown)
}

// VisitQuery picks visits in order of arrival. Zero fields do not restrict.
type VisitQuery struct {
	From, To  civil.Date // both included
	RigID     ID
	FarmID    ID
	BookingID ID
	States    []VisitState
	Limit     int // 0 means 5000
}
