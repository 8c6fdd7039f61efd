package kit

import (
	"slices"
	"strings"

	"drawbar/booking/pace"
)

// products is a line for each product, and one for each service that gives a
// product nobody has named.
func (in *Input) products() []Item {
	var out []Item
	for i := range in.Products {
		out = append(out, in.doses(&in.Products[i]))
	}
	for _, code := range medicines {
		named := slices.ContainsFunc(in.Products, func(p Product) bool { return p.Service == code })
		if n := in.head(code); n > 0 && !named {
			s, _ := pace.ServiceByCode(code)
			out = append(out, Item{
				What: "product for " + strings.ToLower(s.Name), Amount: withOver(n), Unit: "doses",
				Reckoned: reckon("%d head and %.0f %% over; name the product for the volume", n, 100*over),
				Caution:  in.productCaution(code, true),
			})
		}
	}
	return out
}

// doses is a line for a product, with the dose of each weight class.
func (in *Input) doses(p *Product) Item {
	var parts []string
	need, guessed := 0.0, false
	for i := range in.Job.Mobs {
		if !slices.Contains(in.Job.Mobs[i].Services, p.Service) {
			continue
		}
		list, guess := in.classesOf(i)
		guessed = guessed || guess
		for _, w := range list {
			dose := p.DoseML(w.HeaviestKg)
			need += dose * float64(w.Head)
			parts = append(parts, p.line(w, dose))
		}
	}
	ml := up(need * (1 + over))
	item := Item{
		What: p.Name, Amount: ml, Unit: "mL", Packs: wholePacks(int(ml), p.Packs),
		Reckoned: strings.Join(parts, "; ") + reckon("; %.0f %% over", 100*over),
		Caution:  in.productCaution(p.Service, p.byWeight()),
	}
	if guessed && p.byWeight() {
		item.Caution = "The heaviest weight is a guess: weigh several of the biggest before dosing. " + item.Caution
	}
	return item
}

func (p *Product) line(w WeightClass, dose float64) string {
	if p.byWeight() {
		return reckon("%d head to %.0f kg × %.2f mL", w.Head, w.HeaviestKg, dose)
	}
	return reckon("%d head × %.2f mL", w.Head, dose)
}

// productCaution: dosing to the heaviest, checking the gun and splitting mobs of
// wide weights are advice of Meat & Livestock Australia (How to drench, 2015) and
// of Texas A&M extension (L-5092, 1998).
func (in *Input) productCaution(service string, byWeight bool) string {
	var all []string
	if byWeight {
		all = append(all, "The dose is for the heaviest of each class; split a mob whose weights lie far apart, small animals can be overdosed.")
	}
	all = append(all, "Check the gun against a measuring cylinder before use and through the day. Keep the withdrawal period.")
	if service == pace.Inject || service == pace.LambMark {
		all = append(all, "Carry vaccine cold, 2 to 8 °C, and use opened bottles within the label's time.")
	}
	if in.goatsGet(service) {
		all = append(all, "Few products are licensed for goats: your vet sets their dose and withdrawal.")
	}
	return strings.Join(all, " ") + label
}

func (in *Input) goatsGet(service string) bool {
	return slices.ContainsFunc(in.Job.Mobs, func(m pace.Mob) bool {
		return m.Species == pace.Goat && slices.Contains(m.Services, service)
	})
}
