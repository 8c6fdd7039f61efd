package booking

import "drawbar/booking/fault"

// WeightClass is animals of one mob that get one dose: that for the heaviest
// among them.
type WeightClass struct {
	Head int     `json:"head"`
	Kg   float64 `json:"kg"` // of the heaviest
}

// Limits of weight classes.
const (
	MaxClasses   = 3
	minKg, maxKg = 1, 300
)

// checkWeights says what is wrong with the weight classes of a mob; it may
// have none.
func (m Mob) checkWeights(f fault.Fields) {
	if len(m.Weights) == 0 {
		return
	}
	if len(m.Weights) > MaxClasses {
		f.Add("heaviest", "Split a mob into at most %d weight classes.", MaxClasses)
	}
	head := 0
	for _, w := range m.Weights {
		head += max(w.Head, 0)
		if w.Head < 1 {
			f.Add("heaviest", "Give how many animals are in each weight class.")
		}
		if !(w.Kg >= minKg && w.Kg <= maxKg) {
			f.Add("heaviest", "Give the weight of the heaviest from %d to %d kg.", minKg, maxKg)
		}
	}
	if head != m.Head {
		f.Add("heaviest", "The weight classes have %d head, the mob has %d; please make them agree.", head, m.Head)
	}
}

// Heaviest of the mob in kg; 0 where nobody has told.
func (m Mob) Heaviest() float64 {
	kg := 0.0
	for _, w := range m.Weights {
		kg = max(kg, w.Kg)
	}
	return kg
}
