package pace

import "math"

// LogNormal is a time whose logarithm is normal with mean Mu and standard
// deviation Sigma. The zero value has median 1.
type LogNormal struct{ Mu, Sigma float64 }

// FromMeanCV is the log-normal with a mean and a coefficient of variation:
// sigma² = ln(1+cv²), mu = ln mean − sigma²/2.
func FromMeanCV(mean, cv float64) LogNormal {
	v := logVar(cv)
	return LogNormal{math.Log(mean) - v/2, math.Sqrt(v)}
}

// fromMoments is the log-normal with a mean and a variance.
func fromMoments(mean, variance float64) LogNormal {
	return FromMeanCV(mean, math.Sqrt(max(variance, 0))/mean)
}

// Mean of the time.
func (l LogNormal) Mean() float64 { return math.Exp(l.Mu + l.Sigma*l.Sigma/2) }

// CV is the coefficient of variation.
func (l LogNormal) CV() float64 { return math.Sqrt(math.Expm1(l.Sigma * l.Sigma)) }

// Quantile is the time not exceeded with probability p, 0 < p < 1.
func (l LogNormal) Quantile(p float64) float64 {
	return l.at(math.Sqrt2 * math.Erfinv(2*p-1))
}

// at is the time z standard deviations above the median, on the log scale.
func (l LogNormal) at(z float64) float64 { return math.Exp(l.Mu + z*l.Sigma) }

// over is E[max(T−k, 0)], the mean time spent beyond k.
func (l LogNormal) over(k float64) float64 {
	if l.Sigma < 1e-9 {
		return max(math.Exp(l.Mu)-k, 0)
	}
	d := (l.Mu - math.Log(k)) / l.Sigma
	return l.Mean()*phi(d+l.Sigma) - k*phi(d)
}

// Standard normal points used everywhere: 80 % and 90 % of visits.
const (
	z80 = 0.8416212335729143
	z90 = 1.2815515655446004
)

// phi is the standard normal distribution function.
func phi(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

// logVar turns a coefficient of variation into the variance of the logarithm.
func logVar(cv float64) float64 { return math.Log1p(cv * cv) }
