package schedule

import (
	"slices"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/pace/kit"
)

// longestWork bounds the hours of work that fuel is reckoned for.
const longestWork = 400

// Kit lists what to load for a whole booking with one rig. The error is one
// of input, in a sentence.
func (p *Planner) Kit(b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig, services map[string]booking.Service) ([]kit.Item, error) {
	job := JobOf(b, farm, yard, rig)
	e, err := p.Pace.Estimate(job)
	if err != nil {
		return nil, kind(err)
	}
	in := kit.Input{Job: job, Products: products(b, services), WorkHours: min(e.Working.P90.Hours(), longestWork)}
	for i, m := range b.Mobs {
		for _, w := range m.Weights {
			in.Weights = append(in.Weights, kit.WeightClass{Mob: i, Head: w.Head, HeaviestKg: w.Kg})
		}
	}
	items, err := kit.List(in)
	return items, kind(err)
}

// products are those of the booked services, as their labels have them.
func products(b booking.Booking, services map[string]booking.Service) []kit.Product {
	var all []kit.Product
	for _, s := range pace.Services() {
		product := services[s.Code]
		booked := slices.ContainsFunc(b.Mobs, func(m booking.Mob) bool { return slices.Contains(m.Services, s.Code) })
		if booked && product.Product != "" {
			all = append(all, kit.Product{
				Name: product.Product, Service: s.Code, MgPerKg: product.MgPerKg, MgPerML: product.MgPerML, MLPerHead: product.MLPerHead, Packs: product.Packs,
			})
		}
	}
	return all
}
