package schedule_test

import (
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"

	"github.com/paulmach/orb"
)

// Two visits to one far yard share a day's drive. For either the next best
// place is a day of its own, which costs that drive again: more than here.
func TestWhyHere(t *testing.T) {
	b := newBench(t)
	for range 2 {
		b.asked(60, func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.At = orb.Point{-75.9, 38.4} })
	}
	b.applied()
	visits := b.visits()
	if visits[0].Day != visits[1].Day {
		t.Fatalf("on %s and %s", visits[0].Day, visits[1].Day)
	}
	for _, v := range visits {
		why, err := b.planner.WhyHere(t.Context(), v.ID)
		b.must(err)
		if why.Problem != "" || why.Here <= 0 || why.Place == "" || why.More <= 0 || why.Promise {
			t.Errorf("%+v", why)
		}
		drive := 4_000 / 60 // an hour of the crew and the kilometres of more than half an hour's drive
		if why.More < int64(drive) {
			t.Errorf("another day costs only %d more", why.More)
		}
	}
	v := visits[0]
	b.must(b.desk().Fix(t.Context(), v.ID, v.Version))
	why, err := b.planner.WhyHere(t.Context(), v.ID)
	b.must(err)
	if move := b.planner.Costs.Prices.MoveDay; !why.Promise || why.More < move {
		t.Errorf("promised, another place costs %d more; breaking the word alone is %d", why.More, move)
	}
	v, err = b.store.Visit(t.Context(), v.ID)
	b.must(err)
	v.State = booking.UnderWay
	b.must(b.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "began"}))
	if why, err := b.planner.WhyHere(t.Context(), v.ID); err != nil || why.Problem == "" {
		t.Errorf("under way: %+v, %v", why, err)
	}
	if _, err := b.planner.WhyHere(t.Context(), booking.NewID()); !fault.Is(err, fault.NotFound) {
		t.Errorf("no such visit: %v", err)
	}
}

func TestWhyNoDay(t *testing.T) {
	b := newBench(t)
	room := b.asked(60, nil)
	says, err := b.planner.WhyNoDay(t.Context(), room.ID)
	b.must(err)
	if !strings.HasPrefix(says, "There is room on ") || !strings.Contains(says, b.rig.Name) {
		t.Errorf("room: %s", says)
	}
	narrow := b.asked(60, func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.GateWidth = 2.2 })
	if says, err = b.planner.WhyNoDay(t.Context(), narrow.ID); err != nil || !strings.Contains(says, "The yard's gate is 2.2 m") {
		t.Errorf("narrow: %s, %v", says, err)
	}
	// The one morning that suits is taken from the start; the next is free.
	monday := func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Windows = []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.AllDay}}
	}
	b.at(b.asked(900, func(f *booking.Farm, y *booking.Yard, k *booking.Booking) {
		monday(f, y, k)
		y.Overnight = false
		k.Mobs[0].Services = []string{"drench", "inject"}
	}), sample.Day, 8*60+30)
	full := b.asked(900, func(f *booking.Farm, y *booking.Yard, k *booking.Booking) {
		monday(f, y, k)
		k.Windows[0].Part = booking.Morning
		y.Overnight = false
	})
	says, err = b.planner.WhyNoDay(t.Context(), full.ID)
	b.must(err)
	if !strings.Contains(says, "on Mon 13 April") || !strings.Contains(says, "14 April") {
		t.Errorf("full: %s", says)
	}
}
