package pace

import (
	"fmt"
	"math"
)

// FarmPace is how work at a farm compares with a typical farm.
type FarmPace struct {
	Factor    float64 // 1.2: a fifth more time than at a typical farm
	Low, High float64 // four of five times the truth lies between
	Visits    int     // signed dockets it rests on
}

// Farm is what is known of a farm; false when no docket of it is known.
func (m *Model) Farm(id string) (FarmPace, bool) {
	if m.learned == nil {
		return FarmPace{}, false
	}
	f, ok := m.learned.Work.Farm[id]
	if !ok {
		return FarmPace{}, false
	}
	sd := z90 * math.Sqrt(f.Var) // a tenth beyond each end
	mid := f.Mean + m.learned.Work.NewFarm/2
	return FarmPace{math.Exp(mid), math.Exp(mid - sd), math.Exp(mid + sd), f.Visits}, true
}

// Words says it in a sentence.
func (p FarmPace) Words() string {
	visits := "one visit"
	if p.Visits != 1 {
		visits = fmt.Sprintf("%d visits", p.Visits)
	}
	percent := math.Round(100 * math.Abs(p.Factor-1))
	switch {
	case percent < 3:
		return fmt.Sprintf("Work here takes about as long as elsewhere, from %s.", visits)
	case p.Low <= 1 && p.High >= 1:
		return fmt.Sprintf("Work here may take %.0f %% %s than elsewhere; %s cannot settle it yet.", percent, p.side(), visits)
	}
	return fmt.Sprintf("Work here takes about %.0f %% %s than elsewhere, from %s.", percent, p.side(), visits)
}

// Doubt says how sure that is: "Four times in five the truth lies between 105 %
// and 138 % of the time elsewhere."
func (p FarmPace) Doubt() string {
	return fmt.Sprintf("Four times in five the truth lies between %.0f %% and %.0f %% of the time elsewhere.", 100*p.Low, 100*p.High)
}

func (p FarmPace) side() string {
	if p.Factor > 1 {
		return "longer"
	}
	return "less time"
}

// Taught is what dockets say of a service or motion: the factor on its base
// seconds and the doubt left about it, as a coefficient of variation; false
// where nothing is learned.
func (m *Model) Taught(code string) (factor, cv float64, ok bool) {
	k, known := keyOf(code)
	if m.learned == nil || !known {
		return 1, 0, false
	}
	e := &m.learned.Work
	return math.Exp(e.Mean[k] + e.Cov[k][k]/2), math.Sqrt(math.Expm1(e.Cov[k][k])), true
}
