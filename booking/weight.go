package booking

import (
	"fmt"
	"strings"
)

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

// weightsFault says what is wrong with the weight classes of a mob; "" for
// nothing. It may have none.
func (m Mob) weightsFault() string {
	if len(m.Weights) == 0 {
		return ""
	}
	if len(m.Weights) > MaxClasses {
		return fmt.Sprintf("Split a mob into at most %d weight classes.", MaxClasses)
	}
	head := 0
	for _, w := range m.Weights {
		if w.Head < 1 {
			return "Give how many animals are in each weight class."
		}
		if !(w.Kg >= minKg && w.Kg <= maxKg) {
			return fmt.Sprintf("Give the weight of the heaviest from %d to %d kg.", minKg, maxKg)
		}
		head += w.Head
	}
	if head != m.Head {
		return fmt.Sprintf("The weight classes have %d head, the mob has %d; please make them agree.", head, m.Head)
	}
	return ""
}

// Heaviest of the mob in kg; 0 where nobody has told.
func (m Mob) Heaviest() float64 {
	kg := 0.0
	for _, w := range m.Weights {
		kg = max(kg, w.Kg)
	}
	return kg
}

// keepWeights carries weight classes over to mobs that a farmer sent anew: the
// form asks only for the heaviest animal.
func keepWeights(old, sent []Mob) {
	for i := range min(len(old), len(sent)) {
		if o, s := old[i], &sent[i]; o.Class == s.Class && o.Head == s.Head && o.Heaviest() == s.Heaviest() {
			s.Weights = o.Weights
		}
	}
}

// WeightsInWords are the classes as people say them: "60 to 45 kg, 120 to
// 70 kg"; "" for none.
func (m Mob) WeightsInWords() string {
	words := make([]string, len(m.Weights))
	for i, w := range m.Weights {
		words[i] = fmt.Sprintf("%d to %g kg", w.Head, w.Kg)
	}
	return strings.Join(words, ", ")
}

// WithHead is the mob with another number of animals; its weight classes keep
// their shares of it.
func (m Mob) WithHead(head int) Mob {
	was := m.Head
	m.Head = head
	if len(m.Weights) == 0 || was <= 0 {
		return m
	}
	classes, left := []WeightClass{}, head
	for i, w := range m.Weights {
		w.Head = min((w.Head*head+was/2)/was, left)
		if i == len(m.Weights)-1 {
			w.Head = left
		}
		left -= w.Head
		if w.Head > 0 {
			classes = append(classes, w)
		}
	}
	m.Weights = classes
	return m
}
