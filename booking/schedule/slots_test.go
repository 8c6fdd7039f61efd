package schedule_test

import (
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"

	"github.com/paulmach/orb"
)

// placedWeek is a bench with three visits placed, two of them one after the
// other, and a fourth booking that waits.
func placedWeek(t *testing.T) (*bench, booking.Booking) {
	b := newBench(t)
	near := func(lat float64) func(*booking.Farm, *booking.Yard, *booking.Booking) {
		return func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.At = orb.Point{-75.6, lat} }
	}
	b.at(b.asked(60, near(38.8)), sample.Day, 8*60)
	b.at(b.asked(60, near(39)), sample.Day, 13*60)
	b.at(b.asked(200, near(38.9)), sample.Day.AddDays(1), 9*60)
	return b, b.asked(50, near(38.85))
}

func (b *bench) cost() int64 {
	b.Helper()
	_, plan, misfits, err := b.planner.AsPlaced(b.Context(), sample.Day, 7)
	b.must(err)
	if len(misfits) > 0 {
		b.Fatal(misfits)
	}
	paid := plan.Cost
	paid.Risk = 0
	return paid.Total().Minor()
}

// Each slot can be taken as it stands: no rule broken, nothing else moved, and
// the rounds then cost what the slot said.
func TestSlotsHoldWhatTheySay(t *testing.T) {
	b, waits := placedWeek(t)
	slots, err := b.planner.Slots(t.Context(), waits.ID)
	b.must(err)
	if len(slots) < 3 || len(slots) > 5 {
		t.Fatalf("%d slots", len(slots))
	}
	for i := range slots {
		b, waits := placedWeek(t)
		mine, err := b.planner.Slots(t.Context(), waits.ID)
		b.must(err)
		s := mine[i]
		if i > 0 && s.Dark == 0 && s.Adds < mine[i-1].Adds {
			t.Errorf("slot %d is cheaper than the one before it, and no risk", i)
		}
		before := b.cost()
		moved, err := b.planner.PlaceBooking(t.Context(), waits.ID, s.Place)
		b.must(err)
		if len(moved.Concerns) > 0 {
			t.Errorf("%s: %v", s.InWords(), moved.Concerns)
		}
		b.must(b.planner.Keep(t.Context(), moved))
		if got := b.cost() - before; got-s.Adds > 1 || s.Adds-got > 1 { // two roundings
			t.Errorf("%s: said to add %d, adds %d", s.InWords(), s.Adds, got)
		}
	}
}

func TestNoSlots(t *testing.T) {
	b := newBench(t)
	for name, change := range map[string]func(*booking.Farm, *booking.Yard, *booking.Booking){
		"gate too narrow": func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.GateWidth = 2.2 },
		"days are over": func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Windows = []booking.Window{{From: sample.Today.AddDays(-9), To: sample.Today.AddDays(-2)}}
		},
	} {
		if slots, err := b.planner.Slots(t.Context(), b.asked(60, change).ID); err != nil || len(slots) > 0 {
			t.Errorf("%s: %v, %v", name, slots, err)
		}
	}
	if _, err := b.planner.Slots(t.Context(), booking.NewID()); !fault.Is(err, fault.NotFound) {
		t.Errorf("no such booking: %v", err)
	}
	b.at(b.asked(60, nil), sample.Day, 9*60)
	if slots, err := b.planner.Slots(t.Context(), b.visits()[0].BookingID); err != nil || len(slots) > 0 {
		t.Errorf("placed already: %v, %v", slots, err)
	}
}
