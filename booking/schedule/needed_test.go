package schedule_test

import (
	"slices"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"

	"github.com/paulmach/orb"
)

// Two bookings at neighbours far away, with a day between them on which the rig
// does not go out: it stays there over that day, unless it has to be at home
// for the workshop.
func TestARigIsHomeTheNightBeforeItIsNeededThere(t *testing.T) {
	for name, needed := range map[string]bool{"rained off": false, "workshop": true} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			b.farAwayOn(0)
			b.farAwayOn(2)
			b.must(b.store.SaveDayOff(t.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(1), Reason: name, Needed: needed}))
			b.applied()
			if got, want := b.awayOn(0), !needed; got != want {
				t.Errorf("it stays away the night before: %v, not %v", got, want)
			}
			b.concerned(false)
		})
	}
}

// A day at home that comes up when the rig was to stay away is a concern of
// the visit before it, and the next plan brings the rig home.
func TestStayingAwayBeforeADayAtHomeIsAConcern(t *testing.T) {
	b := newBench(t)
	b.farAwayOn(0)
	b.farAwayOn(2)
	shop := booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(1), Reason: "rained off"}
	b.must(b.store.SaveDayOff(t.Context(), shop))
	b.applied()
	shop.Reason, shop.Needed = "workshop", true
	b.must(b.store.SaveDayOff(t.Context(), shop))
	b.concerned(true)
	b.applied()
	if b.awayOn(0) {
		t.Error("it still stays away")
	}
	b.concerned(false)
}

// A rig that stands out and cannot be home in time does not stop a plan.
func TestARigThatStandsOutIsBroughtHomeWhenItCan(t *testing.T) {
	b := newBench(t)
	b.farAwayOn(0)
	b.farAwayOn(3)
	b.must(b.store.SaveDayOff(t.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(1), Reason: "rained off"}))
	b.applied()
	if !b.awayOn(0) {
		t.Fatal("it never stayed away")
	}
	b.now = b.now.AddDate(0, 0, sample.Day.AddDays(1).DaysSince(sample.Today))
	for _, after := range []int{1, 2} {
		b.must(b.store.SaveDayOff(t.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(after), Reason: "workshop", Needed: true}))
		if _, err := b.planner.Propose(t.Context(), sample.Day.AddDays(1), 6, schedule.Search{Seed: 1, Iterations: 300}); err != nil {
			t.Errorf("needed at home until %s: %v", sample.Day.AddDays(after), err)
		}
	}
}

// Trouble marked on a day on which the rig has to be at home leaves that as it
// is; on other days it asks for nothing of the kind.
func TestTroubleKeepsTheRigNeededAtHome(t *testing.T) {
	for name, from := range map[string]int{"all day": 0, "late": 10 * 60} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			shop := booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(1), Reason: "workshop", Needed: true}
			b.must(b.store.SaveDayOff(t.Context(), shop))
			_, err := b.planner.Mark(t.Context(), schedule.Trouble{Rigs: []booking.ID{b.rig.ID}, Day: sample.Day, Until: shop.Date, From: from, Reason: "rained off"})
			b.must(err)
			off, err := b.store.DaysOff(t.Context(), sample.Day, shop.Date)
			b.must(err)
			if len(off) != 2 || off[0].Needed || !off[1].Needed || off[1].From != from {
				t.Errorf("kept are %+v", off)
			}
		})
	}
}

// farAwayOn asks for a short visit far from home on one day.
func (b *bench) farAwayOn(after int) {
	b.asked(60, func(_ *booking.Farm, y *booking.Yard, k *booking.Booking) {
		day := sample.Day.AddDays(after)
		y.At, y.Overnight = orb.Point{-77.0, 38.4}, true
		k.Windows = []booking.Window{{From: day, To: day}}
	})
}

// awayOn tells whether the rig stays away the night after a day of the week.
func (b *bench) awayOn(after int) bool {
	b.Helper()
	r := b.week().Days[after].Rounds[0]
	if len(r.Stops) == 0 {
		b.Fatalf("nothing is placed on day %d", after)
	}
	return r.Sleeps != "home"
}

// concerned checks whether a concern says that the rig has to be at home.
func (b *bench) concerned(want bool) {
	b.Helper()
	var all []string
	for _, d := range b.week().Days {
		for _, r := range d.Rounds {
			for _, s := range r.Stops {
				all = append(all, s.Concerns...)
			}
		}
	}
	says := func(c string) bool {
		return strings.Contains(c, "has to be at home the night before Tue 14 April: workshop")
	}
	if got := slices.ContainsFunc(all, says); got != want {
		b.Errorf("a concern that it has to be at home: %v, not %v: %q", got, want, all)
	}
}
