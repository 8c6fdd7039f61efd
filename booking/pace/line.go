package pace

import "math"

// slowest is the rule for two hands on one animal: both ends must be done
// before it leaves. With log-normal head-to-head differences of total
// log-variance v, E[max] has a closed form (the exchange-option formula,
// Margrabe 1978, J. Finance 33:177; from memory).
func slowest(v float64) func(logRatio float64) float64 {
	s := math.Sqrt(max(v, 1e-9))
	return func(logRatio float64) float64 {
		d := logRatio / s
		return math.Exp(logRatio)*phi(d+s/2) + phi(s/2-d)
	}
}

// line is the rule for a pusher and a crate with a race of b places between:
// mean time between departures in units of the crate's time, for the logarithm
// of push time over crate time. cv2 is the sum of both squared coefficients of
// variation from head to head.
//
// It is the throughput of Brownian motion held between an empty and a full
// race. With exponential times it is exact: at equal rates it gives
// (b+2)/(b+3) of the rate (Buzacott & Shanthikumar 1993; from memory).
func line(b int, cv2 float64) func(logRatio float64) float64 {
	power := 2 * (float64(b) + slack(cv2)) / max(cv2, 1e-4)
	return func(logRatio float64) float64 {
		return 1 / (1 - idle(-logRatio, power))
	}
}

// idle is the share of time the crate waits: (ρ−1)/(ρ^power−1) with ρ = e^x
// the rate of pushing over the rate of the crate.
func idle(x, power float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 1 / power
	}
	y := power * x
	if y > 700 {
		return 0
	}
	return math.Expm1(x) / math.Expm1(y)
}

// slack is how many places the two stations themselves add to the race. It is
// 3 for exponential times (cv2 = 2), where the line is exact; the power for
// times that vary less was fitted to log-normal times played event by event
// (the test repeats the comparison).
func slack(cv2 float64) float64 { return 3 * math.Pow(cv2/2, 0.63) }
