package pace

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Two stations with exponential times of equal rate and a buffer of b places
// let through (b+2)/(b+3) of the rate: textbook result for the balanced line
// with a finite buffer (Buzacott & Shanthikumar 1993; from memory, so the
// events confirm it here).
func TestExponentialLineAgreesWithTheTextbook(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1))
	const n = 400_000
	for b := 1; b <= 8; b++ {
		book := float64(b+2) / float64(b+3)
		closed := 1 / line(b, 2)(0)
		if math.Abs(closed-book) > 1e-9 {
			t.Errorf("b=%d: closed %.6f, book %.6f", b, closed, book)
		}
		end := twoStations(n, b, func(int) (float64, float64) { return rng.ExpFloat64(), rng.ExpFloat64() })
		if played := n / end; math.Abs(played-book) > 0.01*book {
			t.Errorf("b=%d: played %.4f, book %.4f", b, played, book)
		}
	}
}

// The closed line against the same line played event by event, for log-normal
// times, short and long races, and either station the slower one.
func TestLineAgreesWithEvents(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 2))
	const n = 100_000
	for _, cv := range []float64{0.2, 0.35, 0.5, 0.7} {
		for _, b := range []int{1, 2, 5, 12} {
			for _, ratio := range []float64{0.7, 0.9, 1, 1.1, 1.4} {
				first, second := FromMeanCV(ratio, cv), FromMeanCV(1, cv)
				played := twoStations(n, b, func(int) (float64, float64) {
					return first.at(rng.NormFloat64()), second.at(rng.NormFloat64())
				}) / n
				closed := line(b, 2*cv*cv)(math.Log(ratio))
				if off := closed/played - 1; math.Abs(off) > 0.01 {
					t.Errorf("cv %.2f, %d places, ratio %.1f: closed %.4f, played %.4f (%+.2f %%)", cv, b, ratio, closed, played, 100*off)
				}
			}
		}
	}
}

// More places and steadier times never slow the line, and it is never faster
// than its slower station.
func TestLineIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.IntRange(1, MaxPlaces-1).Draw(t, "places")
		cv2 := rapid.Float64Range(0.001, 2).Draw(t, "cv2")
		x := rapid.Float64Range(-4, 4).Draw(t, "log ratio")
		here := line(b, cv2)(x)
		if here < max(1, math.Exp(x))*(1-1e-9) {
			t.Fatalf("faster than its slower station: %g at log ratio %g", here, x)
		}
		if line(b+1, cv2)(x) > here*(1+1e-9) || line(b, cv2*0.9)(x) > here*(1+1e-9) {
			t.Fatalf("one more place or steadier times slow the line at %d, %g, %g", b, cv2, x)
		}
	})
}

// Two hands on one animal: the closed mean of the larger of two times against
// the mean of many draws.
func TestSlowestAgreesWithDraws(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	const n = 200_000
	for _, ratio := range []float64{0.3, 0.8, 1, 1.5} {
		a, b := FromMeanCV(ratio, 0.4), FromMeanCV(1, 0.25)
		sum := 0.0
		for range n {
			sum += math.Max(a.at(rng.NormFloat64()), b.at(rng.NormFloat64()))
		}
		closed := slowest(a.Sigma*a.Sigma + b.Sigma*b.Sigma)(math.Log(ratio))
		if math.Abs(closed-sum/n) > 0.005*closed {
			t.Errorf("ratio %.1f: closed %.4f, drawn %.4f", ratio, closed, sum/n)
		}
	}
}
