package schedule

import (
	"slices"
	"time"

	"drawbar/booking"
)

// Call is a farmer who has to be rung before a plan is accepted.
type Call struct {
	Booking booking.ID
	Number  int
	Farm    string
	Contact string
	Phone   string
	Was     []string
	Now     []string // none: the day is taken back
	before  time.Time
}

// Ring lists whom a plan breaks its word to, in the order to ring them: who
// would be the first to wait for the rig in vain, or be surprised by it.
func (prop *Proposal) Ring() []Call {
	var calls []Call
	for _, m := range prop.Moves {
		if !m.Told {
			continue
		}
		c := Call{Booking: m.Booking, Number: m.Number, Farm: m.Farm, Contact: m.Contact, Phone: m.Phone, Was: m.Was, Now: m.Now, before: m.Old[0].Arrive}
		if len(m.New) > 0 && m.New[0].Arrive.Before(c.before) {
			c.before = m.New[0].Arrive
		}
		calls = append(calls, c)
	}
	slices.SortStableFunc(calls, func(a, b Call) int { return a.before.Compare(b.before) })
	return calls
}
