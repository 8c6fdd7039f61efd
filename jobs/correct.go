package jobs

import (
	"slices"
	"strconv"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
)

// Correction is what is wrong with a signed docket and why. Head given
// replaces what the docket has for the same mob, service and gate; what is not
// named stays.
type Correction struct {
	Docket booking.ID
	Reason string
	Late   bool    // take in what arrived after signing
	Heads  []Tally // 0 head takes the line out
}

// Check says what is wrong with the entries, field by field: heads under
// "head.0.".
func (c Correction) Check() error {
	f := fault.Fields{}
	f.Text("reason", c.Reason, 500, fault.Required)
	for i, t := range c.Heads {
		at := "head." + strconv.Itoa(i)
		f.Range(at, float64(t.Head), 0, booking.MaxHead, "animals")
		if _, ok := booking.ParseID(string(t.Mob)); !ok || !serviceCode.MatchString(t.Service) {
			f.Add(at, "Choose a mob and a service that are on the docket.")
		}
	}
	if len(c.Heads) == 0 && !c.Late {
		f.Add("heads", "Change at least one number, or take in what arrived after signing.")
	}
	return f.Err()
}

// Correct makes the docket that supersedes a signed one. events are all those
// of the visit; they are folded again only where the correction takes in the
// late ones. It has no id until it is stored.
func (c Correction) Correct(old SignedDocket, s Sheet, events []Event, by booking.ID, now time.Time) (SignedDocket, error) {
	if err := c.Check(); err != nil {
		return SignedDocket{}, err
	}
	docket, tookIn := old.Docket, old.TookIn
	if c.Late {
		docket, tookIn = Fold(events), lateOf(events)
	}
	changed := set(old.Changed, c.Heads)
	docket.Tallies = slices.DeleteFunc(set(docket.Tallies, changed), Tally.none)
	next := Freeze(docket, s, old.Names, now)
	next.Supersedes, next.Reason, next.By, next.Changed, next.TookIn = old.ID, c.Reason, by, changed, tookIn
	return next, nil
}

func lateOf(events []Event) (ids []booking.ID) {
	for _, e := range events {
		if e.Late {
			ids = append(ids, e.ID)
		}
	}
	return ids
}

// set puts tallies into a list, each in place of one of the same cell.
func set(tallies, by []Tally) []Tally {
	changed := slices.Clone(tallies)
	for _, t := range by {
		changed = append(slices.DeleteFunc(changed, t.sameCell), t)
	}
	slices.SortFunc(changed, byCell)
	return changed
}
