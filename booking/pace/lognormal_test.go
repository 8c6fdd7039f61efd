package pace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Worked values of the log-normal from mean and coefficient of variation:
// sigma² = ln(1+c²), mu = ln m − sigma²/2, quantiles with the standard normal
// points 0, 0.8416, 1.2816 (any statistics table), calculated by hand.
func TestLogNormalQuantiles(t *testing.T) {
	for _, c := range []struct{ mean, cv, p50, p80, p90 float64 }{
		{100, 0.3, 95.78, 122.63, 139.53},
		{100, 0.5, 89.44, 133.11, 163.85},
	} {
		l := FromMeanCV(c.mean, c.cv)
		for _, q := range []struct{ p, want float64 }{{0.5, c.p50}, {0.8, c.p80}, {0.9, c.p90}} {
			if got := l.Quantile(q.p); math.Abs(got-q.want) > 0.005 {
				t.Errorf("cv %.1f: %.0f %% point %.3f, want %.2f", c.cv, 100*q.p, got, q.want)
			}
		}
		if math.Abs(l.Mean()-c.mean) > 1e-9 || math.Abs(l.CV()-c.cv) > 1e-9 {
			t.Errorf("mean %g cv %g come back as %g, %g", c.mean, c.cv, l.Mean(), l.CV())
		}
	}
}

func TestMeanTimeBeyondAPoint(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	l := FromMeanCV(120, 0.4)
	for _, k := range []float64{40, 120, 200} {
		sum, n := 0.0, 200_000
		for range n {
			sum += max(l.at(rng.NormFloat64())-k, 0)
		}
		if got, drawn := l.over(k), sum/float64(n); math.Abs(got-drawn) > 0.01*drawn+0.05 {
			t.Errorf("beyond %g: closed %.3f, drawn %.3f", k, got, drawn)
		}
	}
	if got := FromMeanCV(120, 0).over(100); math.Abs(got-20) > 1e-9 {
		t.Errorf("without spread 20 min are beyond 100, got %g", got)
	}
}
