package learn

import (
	"fmt"
	"math"
	"time"

	"drawbar/booking/pace"
)

// A docket goes wrong with this probability before its time is looked at, and
// its time is then off by a factor of about e either way (common practice, no
// source).
const (
	wildShare = 0.03
	wildVar   = 1.0
)

// likely is the log-density of a residual when nothing went wrong and when
// something did.
func likely(residual, variance float64) (good, wild float64) {
	square := residual * residual
	good = math.Log(1-wildShare) - 0.5*math.Log(variance) - 0.5*square/variance
	wide := variance + wildVar
	return good, math.Log(wildShare) - 0.5*math.Log(wide) - 0.5*square/wide
}

// sound is the probability that nothing went wrong, for a residual.
func sound(residual, variance float64) float64 {
	good, wild := likely(residual, variance)
	return 1 / (1 + math.Exp(wild-good))
}

// judge gives every row its probability of being sound. Each farm is judged on
// its own, around the effect that explains its dockets best; one docket cannot
// make its own farm look extreme, many can.
func (f *fit) judge(rows []row, byFarm [][]int) {
	residuals, variances := []float64(nil), []float64(nil)
	for _, list := range byFarm {
		residuals, variances = residuals[:0], variances[:0]
		for _, i := range list {
			mean, variance := f.shared(&rows[i])
			residuals = append(residuals, rows[i].y-mean+f.s.farm/2)
			variances = append(variances, f.s.day+rows[i].own+variance)
		}
		at := likeliest(residuals, variances, f.s.farm)
		for n, i := range list {
			rows[i].good = sound(residuals[n]-at, variances[n])
		}
	}
}

// maxCentres bounds the dockets of one farm that are tried as its centre; they
// are spread over all of its dockets.
const maxCentres = 12

// likeliest is the farm effect with the highest posterior among good guesses:
// none at all, and what each docket alone would say; then improved around the
// best.
func likeliest(residuals, variances []float64, farm float64) float64 {
	best, height := 0.0, math.Inf(-1)
	try := func(at float64) {
		if h := posterior(at, residuals, variances, farm); h > height {
			best, height = at, h
		}
	}
	try(0)
	for i := 0; i < len(residuals); i += 1 + (len(residuals)-1)/maxCentres {
		try(residuals[i])
		try(residuals[i] * farm / (farm + variances[i]))
	}
	for range 3 {
		best = centre(best, residuals, variances, farm)
	}
	return best
}

func posterior(at float64, residuals, variances []float64, farm float64) float64 {
	h := -0.5 * at * at / farm
	for i, r := range residuals {
		good, wild := likely(r-at, variances[i])
		h += math.Max(good, wild) + math.Log1p(math.Exp(-math.Abs(good-wild)))
	}
	return h
}

// centre is the mean of the sound dockets, judged around a first guess.
func centre(guess float64, residuals, variances []float64, farm float64) float64 {
	weight, sum := 1/farm, 0.0
	for i, r := range residuals {
		w := sound(r-guess, variances[i]) / variances[i]
		weight += w
		sum += w * r
	}
	return sum / weight
}

// flag lists the rows that are more likely wrong than right.
func (s *season) flag(f *fit, out *Result, part Part) {
	for i := range s.rows {
		r := &s.rows[i]
		if r.good >= 0.5 {
			continue
		}
		d := &s.dockets[r.docket]
		shared, _ := f.shared(r)
		farm, _, _ := f.farm(r.farm)
		minutes := s.minutes(d)
		out.Odd = append(out.Odd, newOdd(d.ID, part, minutes, minutes*math.Exp(shared+farm-r.y)))
	}
}

func newOdd(id string, part Part, minutes, expected float64) Odd {
	why := "Was the clock left running, or the count too low?"
	if minutes < expected {
		why = "Was the clock paused, or the count too high?"
	}
	return Odd{id, part, minutes, expected, fmt.Sprintf("The %s took %s where about %s was expected. %s",
		part, words(minutes), words(expected), why)}
}

func words(minutes float64) string {
	return pace.HoursMinutes(time.Duration(minutes * float64(time.Minute)))
}
