package learn

import "math"

// Shrunk is a set of raw group means drawn towards their common mean.
type Shrunk struct {
	Mean    float64   // common mean
	Between float64   // variance between groups
	Keep    []float64 // share of its own distance from the mean that each group keeps
	Values  []float64
}

// Shrink draws raw group means together by the empirical-Bayes rule of Morris
// (1983), for raw means that are normal with known variances. For equal
// variances it is the rule of James and Stein with an estimated mean: keep
// 1 − (k−3)·v/Σ(y−ȳ)² of k groups (Efron & Morris 1977). Fewer than four groups
// cannot be told from their mean and keep nothing.
func Shrink(values, variances []float64) Shrunk {
	k := float64(len(values))
	out := Shrunk{Keep: make([]float64, len(values)), Values: make([]float64, len(values))}
	out.Mean, out.Between = between(values, variances)
	for i, v := range values {
		if k > 3 {
			out.Keep[i] = math.Max(0, 1-(k-3)/(k-1)*variances[i]/(variances[i]+out.Between))
		}
		out.Values[i] = out.Mean + out.Keep[i]*(v-out.Mean)
	}
	return out
}

// between estimates the common mean and the variance between groups by matching
// the weighted squares about the mean with what they should be.
func between(values, variances []float64) (mean, variance float64) {
	k := float64(len(values))
	for range 100 {
		var weight, sum float64
		for i, y := range values {
			w := 1 / (variances[i] + variance)
			weight += w
			sum += w * y
		}
		mean = sum / weight
		excess := 0.0
		for i, y := range values {
			w := 1 / (variances[i] + variance)
			excess += w * (k/math.Max(k-1, 1)*(y-mean)*(y-mean) - variances[i])
		}
		next := math.Max(0, excess/weight)
		if math.Abs(next-variance) < 1e-9*(1+variance) {
			return mean, next
		}
		variance = next
	}
	return mean, variance
}
