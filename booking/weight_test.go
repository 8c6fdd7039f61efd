package booking_test

import (
	"math"
	"slices"
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"

	"pgregory.net/rapid"
)

// The office's classes stay when the farmer changes something else, and go
// when the mob is another.
func TestWeightClassesStay(t *testing.T) {
	classes := []booking.WeightClass{{Head: 40, Kg: 52}, {Head: 200, Kg: 80}}
	for name, c := range map[string]struct {
		change func(*booking.Mob)
		want   []booking.WeightClass
	}{
		"nothing":       {func(*booking.Mob) {}, classes},
		"services":      {func(m *booking.Mob) { m.Services = []string{"weigh"} }, classes},
		"fewer head":    {func(m *booking.Mob) { m.Head, m.Weights[0].Head = 100, 100 }, []booking.WeightClass{{Head: 100, Kg: 80}}},
		"heavier":       {func(m *booking.Mob) { m.Weights[0].Kg = 95 }, []booking.WeightClass{{Head: 240, Kg: 95}}},
		"nobody weighs": {func(m *booking.Mob) { m.Weights = nil }, nil},
	} {
		t.Run(name, func(t *testing.T) {
			o := newOffice(t)
			b, _, err := o.desk.Ask(t.Context(), request())
			o.must(err)
			o.must(o.desk.Weigh(t.Context(), b.ID, b.Version, [][]booking.WeightClass{classes}))
			b, err = o.store.Booking(t.Context(), b.ID)
			o.must(err)
			mobs := slices.Clone(b.Mobs)
			mobs[0].Weights = []booking.WeightClass{{Head: mobs[0].Head, Kg: 80}} // as the farmer's form has it
			c.change(&mobs[0])
			b, err = o.desk.Change(t.Context(), b.ID, booking.Wish{Version: b.Version, Mobs: mobs, Windows: b.Windows})
			o.must(err)
			if got := b.Mobs[0].Weights; !slices.Equal(got, c.want) {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

func TestWeighingBadly(t *testing.T) {
	o := newOffice(t)
	b, _, err := o.desk.Ask(t.Context(), request())
	o.must(err)
	for name, classes := range map[string][]booking.WeightClass{
		"too few":    {{Head: 3, Kg: 50}},
		"no head":    {{Head: 240, Kg: 50}, {Kg: 60}},
		"no weight":  {{Head: 240}},
		"too heavy":  {{Head: 240, Kg: 301}},
		"four of it": {{Head: 60, Kg: 50}, {Head: 60, Kg: 51}, {Head: 60, Kg: 52}, {Head: 60, Kg: 53}},
	} {
		err := o.desk.Weigh(t.Context(), b.ID, b.Version, [][]booking.WeightClass{classes})
		if !fault.Is(err, fault.Invalid) || fault.FieldsOf(err)["mob.0.weights"] == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := o.desk.Weigh(t.Context(), booking.NewID(), 1, nil); !fault.Is(err, fault.NotFound) {
		t.Errorf("no such booking: %v", err)
	}
}

// Whatever the head, the classes of a mob add up to it and keep their order
// and, but for rounding, their shares.
func TestWithHead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := booking.Mob{Class: booking.Ewe}
		for i := range rapid.IntRange(0, 3).Draw(t, "classes") {
			w := booking.WeightClass{Head: rapid.IntRange(1, 400).Draw(t, "head"), Kg: float64(20 * (i + 1))}
			m.Weights, m.Head = append(m.Weights, w), m.Head+w.Head
		}
		if len(m.Weights) == 0 {
			m.Head = rapid.IntRange(1, 400).Draw(t, "head")
		}
		head := rapid.IntRange(1, 2000).Draw(t, "new head")
		got := m.WithHead(head)
		sum := 0
		for _, w := range got.Weights {
			sum += w.Head
			old := slices.IndexFunc(m.Weights, func(o booking.WeightClass) bool { return o.Kg == w.Kg })
			if share := float64(m.Weights[old].Head) * float64(head) / float64(m.Head); math.Abs(share-float64(w.Head)) > 2 {
				t.Errorf("%d of %g, its share is %g", w.Head, w.Kg, share)
			}
		}
		if got.Head != head || len(m.Weights) > 0 && sum != head || len(m.Weights) == 0 && got.Weights != nil {
			t.Errorf("%d head in %v", got.Head, got.Weights)
		}
	})
}
