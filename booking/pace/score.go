package pace

import (
	"cmp"
	"math"
	"slices"
	"time"
)

// Outcome is a visit predicted and then done.
type Outcome struct {
	ID        string
	Head      int
	Predicted Range
	Actual    time.Duration
}

// Score is how well predictions came true.
type Score struct {
	Visits       int     `json:"visits"`
	ErrorMinutes float64 `json:"error_minutes"` // mean distance of the median from the truth
	ErrorShare   float64 `json:"error_share"`   // the same over the mean actual time
	Bias         float64 `json:"bias"`          // mean of log(actual/median): above 0 visits run over
	Within80     float64 `json:"within_80"`     // share done by the 80 % time; should be near 0.8
	Within90     float64 `json:"within_90"`
}

// NewScore scores outcomes. Without any it is zero.
func NewScore(all []Outcome) Score {
	var s Score
	actual := 0.0
	for _, o := range all {
		actual += o.Actual.Minutes()
		s.ErrorMinutes += math.Abs((o.Actual - o.Predicted.Median).Minutes())
		s.Bias += math.Log(o.Actual.Minutes() / o.Predicted.Median.Minutes())
		s.Within80 += held(o.Actual <= o.Predicted.P80)
		s.Within90 += held(o.Actual <= o.Predicted.P90)
	}
	if s.Visits = len(all); s.Visits == 0 {
		return s
	}
	n := float64(len(all))
	s.ErrorShare = s.ErrorMinutes / actual
	s.ErrorMinutes, s.Bias, s.Within80, s.Within90 = s.ErrorMinutes/n, s.Bias/n, s.Within80/n, s.Within90/n
	return s
}

func held(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// ScoreByHead scores the third with the fewest head, the middle third and the
// third with the most apart: a range can hold on the whole and fail for small
// mobs.
func ScoreByHead(all []Outcome) [3]Score {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b Outcome) int { return cmp.Compare(a.Head, b.Head) })
	n := len(sorted)
	return [3]Score{NewScore(sorted[:n/3]), NewScore(sorted[n/3 : 2*n/3]), NewScore(sorted[2*n/3:])}
}
