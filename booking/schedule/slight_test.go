package schedule_test

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
)

// Minutes within a day are slight; another day, rig, night or length is not,
// nor is anything that a farmer was told otherwise.
func TestSlightMoves(t *testing.T) {
	was := booking.Visit{RigID: "heron", Day: sample.Day, Arrive: sample.Morning, Work: time.Hour, Part: 1, Parts: 1}
	for name, c := range map[string]struct {
		change func(*booking.Visit)
		told   bool
		slight bool
	}{
		"five minutes earlier": {func(v *booking.Visit) { v.Arrive = v.Arrive.Add(-5 * time.Minute) }, false, true},
		"two minutes longer":   {func(v *booking.Visit) { v.Work += 2 * time.Minute }, false, true},
		"six minutes later":    {func(v *booking.Visit) { v.Arrive = v.Arrive.Add(6 * time.Minute) }, false, false},
		"much longer":          {func(v *booking.Visit) { v.Work += time.Hour }, false, false},
		"another rig":          {func(v *booking.Visit) { v.RigID = "teal" }, false, false},
		"the next day":         {func(v *booking.Visit) { v.Day = v.Day.AddDays(1) }, false, false},
		"a night away":         {func(v *booking.Visit) { v.Overnight = true }, false, false},
		"told otherwise":       {func(v *booking.Visit) { v.Arrive = v.Arrive.Add(time.Minute) }, true, false},
	} {
		is := was
		c.change(&is)
		m := schedule.Move{Old: []booking.Visit{was}, New: []booking.Visit{is}, Told: c.told}
		if m.Slight() != c.slight {
			t.Errorf("%s: slight %v", name, m.Slight())
		}
	}
	if (schedule.Move{New: []booking.Visit{was}}).Slight() || (schedule.Move{Old: []booking.Visit{was}}).Slight() {
		t.Error("a visit that is placed or taken out is slight")
	}
}
