package kit

import (
	"fmt"
	"slices"

	"drawbar/booking/pace"
)

// Product is a medicine as its label has it. Either MgPerKg and MgPerML, or
// MLPerHead.
type Product struct {
	Name      string  `json:"name"`
	Service   string  `json:"service"` // pace.Drench, pace.Inject, pace.PourOn or pace.LambMark
	MgPerKg   float64 `json:"mg_per_kg,omitempty"`
	MgPerML   float64 `json:"mg_per_ml,omitempty"`
	MLPerHead float64 `json:"ml_per_head,omitempty"` // the same for every weight
	Packs     []int   `json:"packs"`                 // mL in a pack, one or more sizes
}

// Limits of what a product can be; they catch slips of the keyboard.
const (
	maxProducts = 20
	maxName     = 100
	minDose     = 0.001 // mg a kg, mg a mL, mL a head
	maxDose     = 1000.0
	maxPack     = 100_000 // mL
	maxPacks    = 10      // sizes
)

// medicines are the services that give one.
var medicines = []string{pace.Drench, pace.Inject, pace.PourOn, pace.LambMark}

// DoseML is the dose for an animal of a weight.
func (p *Product) DoseML(kg float64) float64 {
	if p.byWeight() {
		return kg * p.MgPerKg / p.MgPerML
	}
	return p.MLPerHead
}

func (p *Product) byWeight() bool { return p.MLPerHead == 0 }

func (in *Input) checkProduct(i int) error {
	p := &in.Products[i]
	if name, sentence := p.fault(); name != "" {
		return &pace.Error{Field: fmt.Sprintf("products.%d.%s", i, name), Sentence: sentence}
	}
	if in.head(p.Service) == 0 {
		s, _ := pace.ServiceByCode(p.Service)
		return &pace.Error{
			Field:    fmt.Sprintf("products.%d.service", i),
			Sentence: s.Name + " is done to no mob of this visit; leave the product out or choose its service.",
		}
	}
	return nil
}

// fault names the first field at fault, "" for none.
func (p *Product) fault() (field, sentence string) {
	weighed := p.MgPerKg != 0 || p.MgPerML != 0
	switch {
	case !slices.Contains(medicines, p.Service):
		return "service", "A product goes with drench, inject, pour-on or lamb-mark."
	case p.Name == "" || len(p.Name) > maxName:
		return "name", "Give the product's name as on the label, at most 100 letters."
	case weighed == (p.MLPerHead != 0):
		return "ml_per_head", "Give either mL a head, or mg a kg together with mg a mL."
	case weighed && !(sensible(p.MgPerKg) && sensible(p.MgPerML)):
		return "mg_per_kg", "mg a kg and mg a mL must both be 0.001 to 1000."
	case !weighed && !sensible(p.MLPerHead):
		return "ml_per_head", "mL a head must be 0.001 to 1000."
	case len(p.Packs) == 0 || len(p.Packs) > maxPacks:
		return "packs", "Give the sizes the product is sold in, one to ten of them, in mL."
	case slices.Min(p.Packs) < 1 || slices.Max(p.Packs) > maxPack:
		return "packs", "A pack holds 1 to 100,000 mL."
	}
	return "", ""
}

func sensible(x float64) bool { return x >= minDose && x <= maxDose }
