package pace

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"
)

// The conditional mean of a gamma-Poisson rate is (alpha+count)/(beta+hours);
// pumps 1, 5 and 10 of the ten-pump data with alpha 0.82297, beta 1.26165
// (George, Makov & Smith 1993; posterior means by quadrature elsewhere).
func TestRateIsTheGammaPoissonMean(t *testing.T) {
	r := Rate{0.82297, 1.26165}
	for _, c := range []struct{ count, hours, want float64 }{{5, 94.3, 0.0609}, {3, 5.24, 0.5880}, {22, 10.5, 1.9405}} {
		if got := r.Of(c.count, c.hours); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("%g in %g h: %.4f, want %.4f", c.count, c.hours, got, c.want)
		}
	}
}

func TestLivePaceMovesFromEstimateToCount(t *testing.T) {
	e := estimate(t, plain())
	r := e.Rate()
	if got := r.Of(0, 0); math.Abs(got-e.HeadPerHour) > 1e-9 {
		t.Errorf("before the first head %.1f an hour, estimate %.1f", got, e.HeadPerHour)
	}
	twice := 2 * e.HeadPerHour
	early := r.After(twice/10, 1000, 6*time.Minute).HeadPerHour
	late := r.After(twice*2, 1000, 2*time.Hour).HeadPerHour
	if !(e.HeadPerHour < early && early < late && late > 0.9*twice) {
		t.Errorf("estimate %.0f, after 6 min at double pace %.0f, after 2 h %.0f", e.HeadPerHour, early, late)
	}
}

func TestLiveEndsAndNeverFails(t *testing.T) {
	e := estimate(t, plain())
	r := e.Rate()
	for _, counted := range []float64{240, 300} {
		if live := r.After(counted, 240, time.Hour); live.Left != (Range{}) || live.Done != 0 {
			t.Errorf("%g of 240 counted and %v left", counted, live.Left.Median)
		}
	}
	if live := r.After(-5, 240, -time.Hour); !(live.HeadPerHour > 0 && live.Left.Median > 0) {
		t.Errorf("odd input gives %+v", live)
	}
}

// A visit stopped half-way: the 80 % time for the rest holds at least as often
// as it says, and not always.
func TestLiveRangeHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	e := estimate(t, plain())
	r := e.Rate()
	visit, head := FromMeanCV(3600/e.HeadPerHour, e.Parts.Work.CV), FromMeanCV(1, headSpread)
	held, n := 0, 4000
	for range n {
		seconds := visit.at(rng.NormFloat64())
		spent := func(heads int) (sum float64) {
			for range heads {
				sum += seconds * head.at(rng.NormFloat64())
			}
			return sum
		}
		live := r.After(60, 240, time.Duration(spent(60)*1e9))
		if spent(180) <= live.Left.P80.Seconds() {
			held++
		}
	}
	if share := float64(held) / float64(n); share < 0.8 || share > 0.99 {
		t.Errorf("the 80 %% time for the rest holds in %.1f %%", 100*share)
	}
}

// Four hours at the crate have the breaks of the table: 10 min after two, 30
// after four. What is left carries only the breaks not yet behind.
func TestLiveCarriesTheBreaksToCome(t *testing.T) {
	r := Rate{Alpha: 1e9, Beta: 1e7} // 100 head an hour and no doubt
	for _, c := range []struct{ counted, worked, left, breaks float64 }{
		{0, 0, 100, 0}, {0, 0, 200, 0}, {0, 0, 250, 10}, {0, 0, 460, 40}, {150, 90, 100, 10}, {250, 150, 100, 0}, {250, 150, 200, 30},
	} {
		live := r.After(c.counted, c.counted+c.left, minutes(c.worked))
		want := minutes(c.left*0.6 + c.breaks)
		if d := live.Done - want; d < -2*time.Second || d > 2*time.Second {
			t.Errorf("%+v: done in %v, want %v", c, live.Done, want)
		}
		if live.Late < live.Done {
			t.Errorf("%+v: late %v before done %v", c, live.Late, live.Done)
		}
	}
}
