package pace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Runs of two hours with 10 min after the first and a meal of 30 after the
// second: common practice, no source.
func TestBreaksByHoursWorked(t *testing.T) {
	for _, c := range []struct{ hours, minutes float64 }{
		{1, 0}, {2, 0}, {2.25, 5}, {2.5, 10}, {4, 10}, {4.5, 40}, {6.5, 50}, {8.5, 50}, {10.5, 60},
	} {
		if got := breaksIn(60 * c.hours); math.Abs(got-c.minutes) > 1e-9 {
			t.Errorf("%g h of work: %g min of breaks, want %g", c.hours, got, c.minutes)
		}
	}
}

func TestMeanBreaksAgreeWithDraws(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	for _, l := range []LogNormal{FromMeanCV(90, 0.4), FromMeanCV(240, 0.3), FromMeanCV(700, 0.5)} {
		sum, squares, n := 0.0, 0.0, 100_000
		for range n {
			b := breaksIn(l.at(rng.NormFloat64()))
			sum, squares = sum+b, squares+b*b
		}
		mean := sum / float64(n)
		if cv := math.Sqrt(squares/float64(n)-mean*mean) / mean; math.Abs(breaksCV(l)-cv) > 0.05*max(cv, 1) {
			t.Errorf("mean %.0f min of work: spread of breaks %.3f, drawn %.3f", l.Mean(), breaksCV(l), cv)
		}
		if got, drawn := meanBreaks(l), sum/float64(n); math.Abs(got-drawn) > 0.01*drawn+0.02 {
			t.Errorf("mean %.0f min of work: closed %.2f min of breaks, drawn %.2f", l.Mean(), got, drawn)
		}
	}
}
