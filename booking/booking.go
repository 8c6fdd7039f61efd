package booking

import (
	"strconv"
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Booking is what a farmer asked for and agreed.
type Booking struct {
	ID        ID
	Number    int // counts up, for talking about it on the telephone
	FarmID    ID
	YardID    ID
	State     State
	Mobs      []Mob
	Windows   []Window // when it suits; at least one
	Priority  Priority
	Note      string // from the farmer
	Attention string // a sentence for the contractor; "" when nothing is open
	Created   time.Time
	Version   int
}

// Priority is how much it matters that a booking gets a day.
type Priority string

// The priorities. A plan weighs them against what a booking costs: one that
// comes first keeps out several others.
const (
	Usual      Priority = ""
	ComesFirst Priority = "comes first"
	CanWait    Priority = "can wait"
)

// Priorities in the order a form lists them.
var Priorities = []Priority{ComesFirst, Usual, CanWait}

// InWords is the priority as a list shows it.
func (p Priority) InWords() string {
	if p == Usual {
		return "as usual"
	}
	return string(p)
}

// State of a booking.
type State string

// The states of a booking.
const (
	Asked     State = "asked"     // no day agreed yet
	Offered   State = "offered"   // a day was named to the farmer, who has not answered
	Agreed    State = "agreed"    // the day is promised
	Done      State = "done"      // its docket is signed
	Withdrawn State = "withdrawn" // the farmer or the business took it back
)

// Open tells whether the booking still wants a visit or waits for it.
func (s State) Open() bool { return s == Asked || s == Offered || s == Agreed }

// Window is a run of days, and the part of each day, that suit the farmer.
type Window struct {
	From, To civil.Date // both included
	Part     DayPart
}

// DayPart of a window.
type DayPart string

// The parts of a day.
const (
	AllDay    DayPart = "all day"
	Morning   DayPart = "morning"   // arriving before noon
	Afternoon DayPart = "afternoon" // arriving from noon on
)

// DayParts in the order a form lists them.
var DayParts = []DayPart{AllDay, Morning, Afternoon}

// Head is the number of animals over all mobs.
func (b Booking) Head() int {
	total := 0
	for _, m := range b.Mobs {
		total += m.Head
	}
	return total
}

// Latest is the last day in any window.
func (b Booking) Latest() civil.Date {
	var latest civil.Date
	for _, w := range b.Windows {
		if !latest.IsValid() || w.To.After(latest) {
			latest = w.To
		}
	}
	return latest
}

// SuitsAt tells whether work may begin at a moment: in a window, by the day
// and the part of the day in the zone.
func (b Booking) SuitsAt(t time.Time, zone *time.Location) bool {
	local := t.In(zone)
	day, morning := civil.DateOf(local), local.Hour() < 12
	for _, w := range b.Windows {
		part := w.Part == AllDay || (w.Part == Morning) == morning
		if !day.Before(w.From) && !day.After(w.To) && part {
			return true
		}
	}
	return false
}

// Limits of what one booking may hold.
const (
	MaxMobs    = 20
	MaxWindows = 10
	maxAhead   = 550 // days
)

// Check says what is wrong with the entries, field by field: mobs under
// "mob.0.", windows under "window.0.". Windows have to end today or later.
func (b Booking) Check(known map[string]Service, today civil.Date) error {
	f := fault.Fields{}
	f.Text("note", b.Note, 2000, fault.Optional)
	if len(b.Mobs) == 0 || len(b.Mobs) > MaxMobs {
		f.Add("mobs", "Give from 1 to %d mobs.", MaxMobs)
	}
	for i, m := range b.Mobs {
		f.Merge("mob."+strconv.Itoa(i)+".", m.Check(known))
	}
	if len(b.Windows) == 0 || len(b.Windows) > MaxWindows {
		f.Add("windows", "Give from 1 to %d spans of days that suit.", MaxWindows)
	}
	for i, w := range b.Windows {
		f.Merge("window."+strconv.Itoa(i)+".", w.check(today))
	}
	return f.Err()
}

func (w Window) check(today civil.Date) fault.Fields {
	f := fault.Fields{}
	if !w.From.IsValid() {
		f.Add("from", "Give the first day that suits.")
	}
	switch {
	case !w.To.IsValid():
		f.Add("to", "Give the last day that suits.")
	case w.From.IsValid() && w.To.Before(w.From):
		f.Add("to", "The last day is before the first; please look at both.")
	case w.To.Before(today):
		f.Add("to", "These days are over; please give days from today on.")
	case w.To.DaysSince(today) > maxAhead:
		f.Add("to", "We plan at most a year and a half ahead.")
	}
	if !oneOf(w.Part, DayParts) {
		f.Add("part", "Choose all day, morning or afternoon.")
	}
	return f
}

// BookingQuery picks bookings, oldest first. Zero fields do not restrict.
type BookingQuery struct {
	FarmID ID
	States []State
	IDs    []ID
	Limit  int // 0 means 1000
}
