package pace

import (
	"math"
	"testing"
	"time"
)

// Four visits scored by hand.
func TestScoreByHand(t *testing.T) {
	r := Range{Mean: 105 * time.Minute, Median: 100 * time.Minute, P80: 130 * time.Minute, P90: 150 * time.Minute}
	var all []Outcome
	for i, actual := range []int{80, 100, 140, 180} {
		all = append(all, Outcome{Head: 10 * (4 - i), Predicted: r, Actual: time.Duration(actual) * time.Minute})
	}
	s := NewScore(all)
	// errors 20 + 0 + 40 + 80 = 140 of 500 min; within 130: 2 of 4; within 150: 3 of 4
	bias := (math.Log(0.8) + math.Log(1.4) + math.Log(1.8)) / 4
	if s.Visits != 4 || s.ErrorMinutes != 35 || math.Abs(s.ErrorShare-0.28) > 1e-9 || math.Abs(s.Bias-bias) > 1e-9 || s.Within80 != 0.5 || s.Within90 != 0.75 {
		t.Errorf("%+v", s)
	}
	thirds := ScoreByHead(all)
	if thirds[0].Visits != 1 || thirds[0].ErrorMinutes != 80 || thirds[2].Visits != 2 || thirds[2].ErrorMinutes != 10 {
		t.Errorf("by head %+v", thirds)
	}
	if empty := NewScore(nil); empty != (Score{}) {
		t.Errorf("no visits score %+v", empty)
	}
}
