package learn

import "drawbar/booking/pace"

// Docket is what a signed docket says about time. Minutes are without breaks
// and pauses; 0 means not recorded.
type Docket struct {
	ID       string
	Job      pace.Job // as it was really worked: head counted, services done
	Work     float64  // minutes from the first head to the last, with changes between mobs
	SetUp    float64
	PackDown float64
}

// longest is a time no visit takes: beyond it a clock was wrong.
const longest = 60 * 24 * 14.0

// Odd is a docket to look at: its time fits nothing else known.
type Odd struct {
	ID       string
	What     Part
	Minutes  float64 // as signed
	Expected float64 // from all other dockets, in the median
	Sentence string
}

// Part of a visit that is learned.
type Part string

// The parts.
const (
	Work     Part = "work"
	SetUp    Part = "set-up"
	PackDown Part = "pack-down"
)

// Unused is a docket that could not be used, and why.
type Unused struct {
	ID  string
	Err error // a *pace.Error that names the field
}

func (d *Docket) checkMinutes() error {
	for _, c := range []struct {
		field   string
		minutes float64
	}{{"work", d.Work}, {"set_up", d.SetUp}, {"pack_down", d.PackDown}} {
		if !(c.minutes >= 0 && c.minutes <= longest) {
			return &pace.Error{Field: c.field, Sentence: "Minutes must be 0 or more and under two weeks."}
		}
	}
	return nil
}
