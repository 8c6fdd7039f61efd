package schedule_test

import (
	"slices"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
)

// A mob drafted into weight classes is worked class by class, the lighter ones
// with narrower walls. Width goes with the cube root of weight: two thirds of
// the weight is 87 % of the width (the wall positions themselves: common
// practice, no source).
func TestWeightClassesAreLots(t *testing.T) {
	mob := sample.Mob(120)
	job := func() pace.Mob {
		farm := sample.Farm()
		return schedule.Job([]booking.Mob{mob}, sample.Yard(farm), farm.Hygiene, sample.Rig(), 2).Mobs[0]
	}
	if got := job(); got.Lots != nil {
		t.Errorf("like animals have lots %v", got.Lots)
	}
	mob.Weights = []booking.WeightClass{{Head: 120, Kg: 80}}
	if got := job(); got.Lots != nil {
		t.Errorf("one class has lots %v", got.Lots)
	}
	mob.MixedSizes = true
	if got := job(); len(got.Lots) != 3 || !got.AsTheyCome {
		t.Errorf("mixed sizes: %v", got)
	}
	mob.Weights = []booking.WeightClass{{Head: 30, Kg: 10}, {Head: 40, Kg: 52}, {Head: 50, Kg: 80}}
	usual := pace.UsualSize(pace.Ewe)
	if got, want := job(), []pace.Lot{{Head: 30, Size: 1}, {Head: 40, Size: usual - 2}, {Head: 50, Size: usual}}; !slices.Equal(got.Lots, want) || got.AsTheyCome {
		t.Errorf("classes: %v, want %v", got, want)
	}
}
