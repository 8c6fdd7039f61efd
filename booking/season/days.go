package season

import (
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Days is a run of calendar days, both ends included. The zero value, and any
// run that ends before it starts, is empty.
type Days struct{ From, To civil.Date }

// Empty tells whether there is no day in the run.
func (d Days) Empty() bool {
	return !d.From.IsValid() || !d.To.IsValid() || d.To.Before(d.From)
}

// Hold tells whether the day is in the run.
func (d Days) Hold(day civil.Date) bool {
	return !d.Empty() && !day.Before(d.From) && !day.After(d.To)
}

// Len is the number of days in the run.
func (d Days) Len() int {
	if d.Empty() {
		return 0
	}
	return d.To.DaysSince(d.From) + 1
}

// String is the run as sentences say it.
func (d Days) String() string {
	switch {
	case d.Empty():
		return "no day"
	case d.From == d.To:
		return say.Date(d.From)
	}
	return say.Date(d.From) + " to " + say.Date(d.To)
}
