package schedule_test

import (
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"

	"github.com/paulmach/orb"
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

// A visit moved by hand so that the next cannot be reached in time is named
// with how much is missing.
func TestWhatIsTooTightIsSaid(t *testing.T) {
	b := newBench(t)
	for i := range 2 {
		b.asked(150, func(_ *booking.Farm, y *booking.Yard, k *booking.Booking) {
			y.At = orb.Point{-75.5, 38.8 + float64(i)/20}
			k.Windows = []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.AllDay}}
		})
	}
	b.applied()
	first := b.week().Days[0].Rounds[0].Stops[0]
	moved, err := b.planner.Move(t.Context(), first.Visit.ID, first.Visit.Version, schedule.Place{Rig: b.rig.ID, Day: sample.Day, Minute: first.Arrive + 3})
	b.must(err)
	b.must(b.planner.Keep(t.Context(), moved))
	broken := b.found().Plan.Broken
	if len(broken) != 1 || !strings.Contains(broken[0], " min too little to get ") {
		t.Errorf("%q", broken)
	}
}
