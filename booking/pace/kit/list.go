package kit

import (
	"fmt"
	"math"
	"slices"

	"drawbar/booking/pace"
)

// Input is what a list is made from.
type Input struct {
	Job      pace.Job      `json:"job"`
	Products []Product     `json:"products,omitempty"`
	Weights  []WeightClass `json:"weights,omitempty"` // weighed; mobs without any are guessed
	// WorkHours is the estimate's 90 % time of work, for fuel.
	WorkHours float64 `json:"work_hours"`
}

// Item is one thing to load.
type Item struct {
	What     string  `json:"what"`
	Amount   float64 `json:"amount"`
	Unit     string  `json:"unit"`
	Packs    []Pack  `json:"packs,omitempty"`
	Reckoned string  `json:"reckoned"` // how the amount came about
	Caution  string  `json:"caution"`
}

// Amounts that have no published source (common practice).
const (
	over          = 0.05 // doses and tags beyond the head count
	headPerNeedle = 25   // sheep: every 20 to 50, each new bottle, when dirty or bent
	headPerBlade  = 150  // crutching, one cutter
	headPerKnife  = 60   // foot trimming, one blade
	gelPerHead    = 5.0  // mL of contact gel, scanning
	fuelPerHour   = 1.2  // litres, compressor or generator
	fuelReserve   = 0.25
)

// washLitres of ready-mixed disinfectant by hygiene class (common practice, no
// source).
var washLitres = [4]float64{20, 30, 50, 80}

// label ends every caution about something given to animals.
const label = " Follow the label and your vet."

// List says what to load. The error is a *pace.Error that names the field. The
// last two items are always disinfectant and fuel.
func List(in Input) ([]Item, error) {
	if err := in.check(); err != nil {
		return nil, err
	}
	var out []Item
	out = append(out, in.products()...)
	out = append(out, in.injecting()...)
	out = append(out, in.marking()...)
	out = append(out, in.cutting()...)
	out = append(out, in.scanning()...)
	return append(out, in.washing(), in.fuel()), nil
}

func (in *Input) check() error {
	if err := in.Job.Check(); err != nil {
		return err
	}
	if !(in.WorkHours >= 0 && in.WorkHours <= 400) {
		return &pace.Error{Field: "work_hours", Sentence: "Give the hours of work, 0 to 400."}
	}
	if len(in.Products) > maxProducts {
		return &pace.Error{Field: "products", Sentence: "Give at most 20 products for one visit."}
	}
	for i := range in.Products {
		if err := in.checkProduct(i); err != nil {
			return err
		}
	}
	return in.checkWeights()
}

// head counts the animals that get any of the services.
func (in *Input) head(codes ...string) int {
	n := 0
	for i := range in.Job.Mobs {
		m := &in.Job.Mobs[i]
		if slices.ContainsFunc(codes, func(c string) bool { return slices.Contains(m.Services, c) }) {
			n += m.Head
		}
	}
	return n
}

// up rounds up, forgiving the last bits of a float.
func up(x float64) float64 { return math.Ceil(x - 1e-6) }

// withOver is a count with some over, rounded up.
func withOver(n int) float64 { return up(float64(n) * (1 + over)) }

// perHead is one thing for so many head, at least one and one to spare.
func perHead(n, head int) float64 { return up(float64(n)/float64(head)) + 1 }

func reckon(format string, args ...any) string { return fmt.Sprintf(format, args...) }
