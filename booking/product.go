package booking

import (
	"slices"

	"drawbar/booking/fault"
)

// Medicated are the codes of the services that may give a product.
var Medicated = []string{"drench", "inject", "pour-on", "lamb-mark"}

// Limits of a product; they catch slips of the keyboard.
const (
	minDose, maxDose = 0.001, 1000 // mg a kg, mg a mL, mL a head
	maxPack          = 100_000     // mL
	maxPacks         = 10
)

// checkProduct says what is wrong with the product, field by field.
func (s Service) checkProduct(f fault.Fields) {
	weighed := s.MgPerKg != 0 || s.MgPerML != 0
	if s.Product == "" {
		if weighed || s.MLPerHead != 0 || len(s.Packs) > 0 {
			f.Add("product", "Give the product's name as on the label, or leave all of it empty.")
		}
		return
	}
	f.Text("product", s.Product, 100, fault.Required)
	if !oneOf(s.Code, Medicated) {
		f.Add("product", "A product goes with drench, injection, pour-on or lamb marking.")
	}
	if weighed == (s.MLPerHead != 0) {
		f.Add("ml_per_head", "Give either mL a head, or mg a kg together with mg in a mL, as the label has it.")
	}
	if weighed {
		f.Range("mg_per_kg", s.MgPerKg, minDose, maxDose, "mg a kg")
		f.Range("mg_per_ml", s.MgPerML, minDose, maxDose, "mg in a mL")
	} else if s.MLPerHead != 0 {
		f.Range("ml_per_head", s.MLPerHead, minDose, maxDose, "mL a head")
	}
	if len(s.Packs) == 0 || len(s.Packs) > maxPacks || slices.Min(s.Packs) < 1 || slices.Max(s.Packs) > maxPack {
		f.Add("packs", "Give the sizes it is sold in, one to ten of them, from 1 to 100,000 mL.")
	}
}
