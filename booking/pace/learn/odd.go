package learn

import (
	"fmt"
	"math"
	"time"

	"drawbar/booking/say"
)

// A docket goes wrong with this probability before its time is looked at, and
// its time is then off by a factor of about e either way (common practice, no
// source).
const (
	wildShare = 0.03
	wildVar   = 1.0
)

// gap is how far a docket lies from what the shared effects expect, and how
// far it may.
type gap struct {
	off                float64
	variance, wide     float64 // when nothing went wrong, and when something did
	goodBase, wildBase float64 // log-densities at no distance
}

func newGap(off, variance float64) gap {
	wide := variance + wildVar
	return gap{off, variance, wide,
		math.Log(1-wildShare) - 0.5*math.Log(variance), math.Log(wildShare) - 0.5*math.Log(wide)}
}

// likely is the log-density of the docket around a farm effect when nothing
// went wrong and when something did.
func (g *gap) likely(at float64) (good, wild float64) {
	square := (g.off - at) * (g.off - at)
	return g.goodBase - 0.5*square/g.variance, g.wildBase - 0.5*square/g.wide
}

// sound is the probability that nothing went wrong, around a farm effect.
func (g *gap) sound(at float64) float64 {
	good, wild := g.likely(at)
	return 1 / (1 + math.Exp(wild-good))
}

// judge gives every row its probability of being sound. Each farm is judged on
// its own, around the effect that explains its dockets best; one docket cannot
// make its own farm look extreme, many can.
func (f *fit) judge(rows []row, byFarm [][]int) {
	var gaps []gap
	for _, list := range byFarm {
		gaps = gaps[:0]
		for _, i := range list {
			mean, variance := f.shared(&rows[i])
			gaps = append(gaps, newGap(rows[i].y-mean+f.s.farm/2, f.s.day+rows[i].own+variance))
		}
		at := likeliest(gaps, f.s.farm)
		for n, i := range list {
			rows[i].good = gaps[n].sound(at)
		}
	}
}

// maxCentres bounds the dockets of one farm that are tried as its centre; they
// are spread over all of its dockets.
const maxCentres = 12

// likeliest is the farm effect with the highest posterior among good guesses:
// none at all, and what each docket alone would say; then improved around the
// best. Where the farm is nothing unusual and its dockets agree, there is
// nothing to search.
func likeliest(gaps []gap, farm float64) float64 {
	best := plainCentre(gaps, farm)
	if best*best > 2*farm || !allSound(gaps, best) {
		best = bestGuess(gaps, farm)
	}
	for range 2 {
		best = centre(best, gaps, farm)
	}
	return best
}

func plainCentre(gaps []gap, farm float64) float64 {
	weight, sum := 1/farm, 0.0
	for i := range gaps {
		weight += 1 / gaps[i].variance
		sum += gaps[i].off / gaps[i].variance
	}
	return sum / weight
}

func allSound(gaps []gap, at float64) bool {
	for i := range gaps {
		if good, wild := gaps[i].likely(at); good < wild {
			return false
		}
	}
	return true
}

func bestGuess(gaps []gap, farm float64) float64 {
	best, height := 0.0, posterior(0, gaps, farm)
	for i := 0; i < len(gaps); i += 1 + (len(gaps)-1)/maxCentres {
		off := gaps[i].off
		for _, at := range [...]float64{off, off * farm / (farm + gaps[i].variance)} {
			if h := posterior(at, gaps, farm); h > height {
				best, height = at, h
			}
		}
	}
	return best
}

func posterior(at float64, gaps []gap, farm float64) float64 {
	h := -0.5 * at * at / farm
	for i := range gaps {
		good, wild := gaps[i].likely(at)
		h += math.Max(good, wild) + math.Log1p(math.Exp(-math.Abs(good-wild)))
	}
	return h
}

// centre is the mean of the sound dockets, judged around a first guess.
func centre(guess float64, gaps []gap, farm float64) float64 {
	weight, sum := 1/farm, 0.0
	for i := range gaps {
		w := gaps[i].sound(guess) / gaps[i].variance
		weight += w
		sum += w * gaps[i].off
	}
	return sum / weight
}

// flag lists the rows that are more likely wrong than right.
func (s *season) flag(f *fit, out *Result) {
	for i := range s.rows {
		r := &s.rows[i]
		if r.good >= 0.5 {
			continue
		}
		shared, _ := f.shared(r)
		farm, _, _ := f.farm(r.farm)
		expected := r.minutes * math.Exp(shared+farm-r.y)
		out.Odd = append(out.Odd, newOdd(r.docket.ID, s.part, r.minutes, expected))
	}
}

// newOdd says what is odd about a docket and what may be behind it.
func newOdd(id string, part Part, minutes, expected float64) Odd {
	why := "Was the clock left running, or the count too low?"
	if minutes < expected {
		why = "Was the clock paused, or the count too high?"
	}
	return Odd{id, part, minutes, expected, fmt.Sprintf("The %s took %s where about %s was expected. %s",
		part, words(minutes), words(expected), why)}
}

func words(minutes float64) string {
	return say.Length(time.Duration(minutes * float64(time.Minute)))
}
