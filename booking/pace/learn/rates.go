package learn

import (
	"math"

	"drawbar/booking/pace"
)

// FitRates finds how a rate, such as head an hour, differs between groups, such
// as farms: the gamma that makes their counts over hours most likely (empirical
// Bayes by maximum likelihood; the counts are negative binomial). It needs two
// or more groups with hours above zero.
func FitRates(counts, hours []float64) pace.Rate {
	mean := total(counts) / total(hours)
	// For a fixed alpha the best beta is close to alpha/mean; both are searched
	// on a log scale, one after the other, in ever smaller steps.
	at := [2]float64{0, -math.Log(mean)}
	best := likelihood(at, counts, hours)
	for step := 1.0; step > 1e-7; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, d := range [][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}, {step, step}, {-step, -step}} {
				next := [2]float64{at[0] + d[0], at[1] + d[1]}
				if l := likelihood(next, counts, hours); l > best && math.Abs(next[0]) < 12 {
					at, best, moved = next, l, true
				}
			}
		}
	}
	return pace.Rate{Alpha: math.Exp(at[0]), Beta: math.Exp(at[1])}
}

// likelihood of log alpha and log beta, up to a constant.
func likelihood(at [2]float64, counts, hours []float64) float64 {
	alpha, beta := math.Exp(at[0]), math.Exp(at[1])
	own, _ := math.Lgamma(alpha)
	sum := 0.0
	for i, x := range counts {
		joint, _ := math.Lgamma(alpha + x)
		sum += joint - own + alpha*at[1] - (alpha+x)*math.Log(beta+hours[i])
	}
	return sum
}

func total(all []float64) float64 {
	sum := 0.0
	for _, x := range all {
		sum += x
	}
	return sum
}
