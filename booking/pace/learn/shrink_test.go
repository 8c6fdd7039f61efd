package learn

import (
	"math"
	"testing"
)

// Batting averages of 18 players after 45 at-bats and over the rest of the
// season: Efron & Morris 1977, Scientific American 236(5):119. Published
// shrinking constant 0.212; with exact fractions 0.2117, and the squared error
// falls from 0.0753 to 0.0213.
func TestShrinkReproducesEfronAndMorris(t *testing.T) {
	hits := []float64{18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7}
	season := []float64{.346, .298, .276, .222, .273, .270, .263, .210, .269, .230, .264, .256, .303, .264, .226, .285, .316, .200}
	values, variances := make([]float64, 18), make([]float64, 18)
	for i, h := range hits {
		values[i] = h / 45
	}
	mean := total(hits) / 18 / 45
	for i := range variances {
		variances[i] = mean * (1 - mean) / 45
	}
	s := Shrink(values, variances)
	raw, shrunk := 0.0, 0.0
	for i, truth := range season {
		raw += (values[i] - truth) * (values[i] - truth)
		shrunk += (s.Values[i] - truth) * (s.Values[i] - truth)
		if math.Abs(s.Keep[i]-0.2117) > 0.0001 {
			t.Errorf("player %d keeps %.4f, want 0.2117 (published 0.212)", i, s.Keep[i])
		}
	}
	if math.Abs(raw-0.0753) > 0.0001 || math.Abs(shrunk-0.0213) > 0.0001 {
		t.Errorf("squared error %.4f raw, %.4f shrunk; want 0.0753 and 0.0213", raw, shrunk)
	}
}

func TestShrinkWithFewGroupsKeepsNothing(t *testing.T) {
	s := Shrink([]float64{1, 2, 9}, []float64{1, 1, 1})
	for i, v := range s.Values {
		if v != s.Mean {
			t.Errorf("group %d of three stands at %g, the mean is %g", i, v, s.Mean)
		}
	}
}

// Ten pumps: counts over hours, the standard gamma-Poisson data of the BUGS
// manual (George, Makov & Smith 1993). Maximum-likelihood alpha 0.82297, beta
// 1.26165 and the posterior means were calculated by quadrature elsewhere.
func TestRatesOfTenPumps(t *testing.T) {
	counts := []float64{5, 1, 5, 14, 3, 19, 1, 1, 4, 22}
	hours := []float64{94.3, 15.7, 62.9, 126, 5.24, 31.4, 1.05, 1.05, 2.1, 10.5}
	want := []float64{0.0609, 0.1075, 0.0908, 0.1165, 0.5880, 0.6069, 0.7886, 0.7886, 1.4347, 1.9405}
	r := FitRates(counts, hours)
	if math.Abs(r.Alpha-0.82297) > 1e-4 || math.Abs(r.Beta-1.26165) > 1e-4 {
		t.Errorf("alpha %.5f, beta %.5f; want 0.82297, 1.26165", r.Alpha, r.Beta)
	}
	for i, w := range want {
		if got := r.Of(counts[i], hours[i]); math.Abs(got-w) > 1e-4 {
			t.Errorf("pump %d: %.4f, want %.4f", i+1, got, w)
		}
	}
}
