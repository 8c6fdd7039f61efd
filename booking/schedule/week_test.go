package schedule_test

import (
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"

	"cloud.google.com/go/civil"
)

// at is a visit of a booking on a day, arriving at a minute of the day.
func (b *bench) at(ask booking.Booking, day civil.Date, minute int) booking.Visit {
	b.Helper()
	moved, err := b.planner.PlaceBooking(b.Context(), ask.ID, schedule.Place{Rig: b.rig.ID, Day: day, Minute: minute})
	b.must(err)
	b.must(b.planner.Keep(b.Context(), moved))
	visits, err := b.store.Visits(b.Context(), booking.VisitQuery{BookingID: ask.ID})
	b.must(err)
	return visits[0]
}

func TestRoundHasItsDrives(t *testing.T) {
	b := newBench(t)
	v := b.at(b.asked(100, nil), sample.Day, 9*60)
	round := b.week().Days[0].Rounds[0]
	if len(round.Stops) != 1 || len(round.Legs) != 2 || round.Sleeps != "home" {
		t.Fatalf("%d stops, %d drives, sleeps %s", len(round.Stops), len(round.Legs), round.Sleeps)
	}
	out, back := round.Legs[0], round.Legs[1]
	if out.To != 9*60 || out.Solo || !out.Estimate || back.From != round.Stops[0].Leave || out.Metres != back.Metres {
		t.Errorf("out %+v, back %+v", out, back)
	}
	if got := round.Stops[0].Arrive; got != 9*60 || !v.Arrive.Equal(sample.Day.In(time.UTC).Add(13*time.Hour)) { // 09:00 in New York is 13:00 UTC in April
		t.Errorf("arrives at minute %d, %s", got, v.Arrive)
	}
}

// A rig that stays is fetched without the rig in the morning.
func TestNightAtTheYard(t *testing.T) {
	b := newBench(t)
	b.asked(900, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Mobs[0].Services = []string{"foot-check", "drench"}
	})
	b.applied()
	nights := 0
	for _, d := range b.week().Days {
		for _, r := range d.Rounds {
			if len(r.Stops) > 0 && strings.HasPrefix(r.Sleeps, "stays at ") {
				nights++
				if last := r.Legs[len(r.Legs)-1]; !last.Solo || last.End != "home" {
					t.Errorf("the crew goes home by %+v", last)
				}
			}
			if len(r.Stops) > 0 && r.Stops[0].Visit.Part > 1 && (len(r.Legs) == 0 || !r.Legs[0].Solo || r.Legs[0].To != r.Stops[0].Arrive) {
				t.Errorf("the crew comes back by %+v", r.Legs)
			}
		}
	}
	if nights == 0 {
		t.Error("the rig never stayed")
	}
}

// Clocks go forward on 14 March 2027 in New York: nine in the morning is 13:00
// UTC that day and was 14:00 UTC the day before. Source: IANA time zones.
func TestClockChange(t *testing.T) {
	b := newBench(t)
	sunday := civil.Date{Year: 2027, Month: time.March, Day: 14}
	for day, utc := range map[civil.Date]int{sunday.AddDays(-1): 14, sunday.AddDays(1): 13} {
		ask := b.asked(50, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Windows = []booking.Window{{From: day, To: day, Part: booking.AllDay}}
		})
		if v := b.at(ask, day, 9*60); v.Arrive.Hour() != utc || v.Day != day {
			t.Errorf("on %s at %s", day, v.Arrive)
		}
	}
}

func TestMovingByHandTellsWhatItBreaks(t *testing.T) {
	b := newBench(t)
	b.at(b.asked(100, nil), sample.Day, 9*60)
	v := b.at(b.asked(100, func(f *booking.Farm, y *booking.Yard, _ *booking.Booking) {
		f.Hygiene, y.Lights = booking.KnownClean, false
	}), sample.Day.AddDays(1), 9*60)
	for name, c := range map[string]struct {
		day    civil.Date
		minute int
		says   string
	}{
		"sunday":      {sample.Day.AddDays(6), 9 * 60, "not a working day"},
		"night":       {sample.Day.AddDays(2), 20 * 60, "it is dark from"},
		"too early":   {sample.Day.AddDays(2), 5 * 60, "The crew would have to leave at"},
		"other week":  {sample.Day.AddDays(9), 9 * 60, "Not a time the farmer named"},
		"clean after": {sample.Day, 15 * 60, "clean flocks go first"},
	} {
		moved, err := b.planner.Move(t.Context(), v.ID, v.Version, schedule.Place{Rig: b.rig.ID, Day: c.day, Minute: c.minute})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := strings.Join(moved.Concerns, " "); !strings.Contains(got, c.says) {
			t.Errorf("%s: %q does not say %q", name, got, c.says)
		}
	}
}

func TestMovesThatAreRefused(t *testing.T) {
	b := newBench(t)
	first := b.at(b.asked(100, nil), sample.Day, 9*60)
	v := b.at(b.asked(100, nil), sample.Day.AddDays(1), 9*60)
	ok := schedule.Place{Rig: b.rig.ID, Day: sample.Day.AddDays(2), Minute: 9 * 60}
	for name, c := range map[string]struct {
		to      schedule.Place
		version int
		kind    fault.Kind
		field   string
	}{
		"taken":       {schedule.Place{Rig: b.rig.ID, Day: first.Day, Minute: 9*60 + 30}, v.Version, fault.Invalid, "arrive"},
		"over":        {schedule.Place{Rig: b.rig.ID, Day: sample.Today.AddDays(-1), Minute: 9 * 60}, v.Version, fault.Invalid, "day"},
		"no rig":      {schedule.Place{Rig: booking.NewID(), Day: sample.Day, Minute: 9 * 60}, v.Version, fault.Invalid, "rig"},
		"no day":      {schedule.Place{Rig: b.rig.ID, Minute: 9 * 60}, v.Version, fault.Invalid, "day"},
		"old version": {ok, v.Version + 1, fault.Conflict, ""},
	} {
		_, err := b.planner.Move(t.Context(), v.ID, c.version, c.to)
		if !fault.Is(err, c.kind) || c.field != "" && fault.FieldsOf(err)[c.field] == "" {
			t.Errorf("%s: %v, fields %v", name, err, fault.FieldsOf(err))
		}
	}
	if _, err := b.planner.Move(t.Context(), booking.NewID(), 1, ok); !fault.Is(err, fault.NotFound) {
		t.Errorf("a visit that is not there: %v", err)
	}
}
