package kit

import (
	"fmt"

	"drawbar/booking/pace"
)

// WeightClass is animals of one mob that get one dose: all get the dose of the
// heaviest among them.
type WeightClass struct {
	Mob        int     `json:"mob"` // index in the job's mobs
	Head       int     `json:"head"`
	HeaviestKg float64 `json:"heaviest_kg"`
}

// guessedKg is the heaviest of a class where nobody has weighed any. Common
// practice, no source: weigh several of the biggest before dosing.
var guessedKg = map[pace.Class]float64{
	pace.Ewe: 90, pace.Ram: 130, pace.Hogget: 65, pace.Lamb: 45, pace.Doe: 75, pace.Buck: 110, pace.Kid: 35,
}

// classesOf gives the weight classes of a mob; guessed tells that nobody weighed.
func (in *Input) classesOf(mob int) (list []WeightClass, guessed bool) {
	for _, w := range in.Weights {
		if w.Mob == mob {
			list = append(list, w)
		}
	}
	if len(list) > 0 {
		return list, false
	}
	m := &in.Job.Mobs[mob]
	return []WeightClass{{mob, m.Head, guessedKg[m.Class]}}, true
}

func (in *Input) checkWeights() error {
	head := make([]int, len(in.Job.Mobs))
	for i, w := range in.Weights {
		field := func(name string) string { return fmt.Sprintf("weights.%d.%s", i, name) }
		switch {
		case w.Mob < 0 || w.Mob >= len(head):
			return &pace.Error{Field: field("mob"), Sentence: "There is no such mob in the job; mobs count from 0."}
		case w.Head < 1 || w.Head > pace.MaxHead:
			return &pace.Error{Field: field("head"), Sentence: fmt.Sprintf("Give the number of animals, 1 to %d.", pace.MaxHead)}
		case !(w.HeaviestKg >= 1 && w.HeaviestKg <= 300):
			return &pace.Error{Field: field("heaviest_kg"), Sentence: "Give the weight of the heaviest in kg, 1 to 300."}
		}
		head[w.Mob] += w.Head
	}
	for mob, n := range head {
		if want := in.Job.Mobs[mob].Head; n != 0 && n != want {
			return &pace.Error{Field: "weights", Sentence: fmt.Sprintf("The weight classes of mob %d add up to %d head, the mob has %d; make them agree.", mob, n, want)}
		}
	}
	return nil
}
