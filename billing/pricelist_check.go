package billing

import (
	"fmt"
	"slices"
	"strconv"

	"drawbar/booking"
	"drawbar/booking/fault"
)

// Limits of a price list. They keep every sum far inside 64 bits.
const (
	MaxTiers  = 6
	maxPrices = 400
	maxRate   = Rate(10_000 * 10_000) // money for one head
	maxMinor  = 1_000_000_000         // of a fixed amount
	maxHead   = booking.MaxHead * 10  // where a tier may begin
	maxTravel = Rate(1_000 * 10_000)  // money for one kilometre
	maxFree   = 2000                  // kilometres
	maxDays   = 180                   // to pay
)

// Check says what is wrong with the entries, field by field: prices under
// "price.0.", their tiers under "price.0.tier.0.", by their place in the
// slices. The known services are all there are.
func (p PriceList) Check(known map[string]booking.Service) error {
	f := fault.Fields{}
	f.Text("name", p.Name, 80, fault.Required)
	if !p.ValidFrom.IsValid() {
		f.Add("valid_from", "Give the first day these prices hold.")
	}
	p.checkAmounts(f)
	p.checkPrices(f, known)
	f.Merge("travel.", p.Travel.check())
	p.checkTaxes(f)
	f.Range("days", float64(p.Terms.Days), 0, maxDays, "days to pay")
	f.Text("pay_to", p.Terms.PayTo, 400, fault.Optional)
	return f.Err()
}

func (p PriceList) checkAmounts(f fault.Fields) {
	for field, m := range map[string]Money{"minimum": p.Minimum, "set_up": p.SetUp, "wash_down": p.WashDown} {
		if m.Minor < 0 || m.Minor > maxMinor || m.Currency != p.Currency {
			f.Add(field, "Give an amount from 0 to %s.", p.Currency.Of(maxMinor))
		}
	}
}

func (p PriceList) checkPrices(f fault.Fields, known map[string]booking.Service) {
	if len(p.Prices) == 0 || len(p.Prices) > maxPrices {
		f.Add("prices", "Give from 1 to %d prices.", maxPrices)
	}
	type what struct {
		service string
		class   booking.Class
	}
	seen := map[what]bool{}
	for i, price := range p.Prices {
		at := "price." + strconv.Itoa(i) + "."
		f.Merge(at, price.check(p.Currency, known))
		if seen[what{price.Service, price.Class}] {
			f.Add(at+"service", "This service has a price for these animals already; change that one or take this one out.")
		}
		seen[what{price.Service, price.Class}] = true
	}
}

func (p Price) check(c Currency, known map[string]booking.Service) fault.Fields {
	f := fault.Fields{}
	if _, ok := known[p.Service]; !ok {
		f.Add("service", "Choose a service from the list.")
	}
	if p.Class != "" && !slices.Contains(booking.Classes, p.Class) {
		f.Add("class", "Choose a class from the list, or all classes.")
	}
	if len(p.Tiers) == 0 || len(p.Tiers) > MaxTiers {
		f.Add("tier.0.rate", "Give from 1 to %d steps of price.", MaxTiers)
	}
	for i, t := range p.Tiers {
		at := fmt.Sprintf("tier.%d.", i)
		if t.Rate < 0 || t.Rate > maxRate {
			f.Add(at+"rate", "Give a price for each head from 0 to %s.", maxRate.In(c))
		}
		switch {
		case i == 0 && t.From != 1:
			f.Add(at+"from", "The first price holds from head 1.")
		case i > 0 && (t.From <= p.Tiers[i-1].From || t.From > maxHead):
			f.Add(at+"from", "This has to begin above head %d, and no later than head %d.", p.Tiers[i-1].From, maxHead)
		}
	}
	return f
}

func (t Travel) check() fault.Fields {
	f := fault.Fields{}
	if metres[t.Unit] == 0 {
		f.Add("unit", "Choose kilometres or miles.")
	}
	if t.Rate < 0 || t.Rate > maxTravel {
		f.Add("rate", "Give a price for each %s from 0 to %s.", t.Unit, maxTravel.Plain())
	}
	f.Range("free", float64(t.Free), 0, maxFree, "whole units that cost nothing")
	return f
}

// checkTaxes holds EN 16931's rules: a standard rate is above zero (BR-S-05),
// the others are zero (BR-Z-05, BR-E-05), what is outside the scope does not
// mix with the rest (BR-O-11), and no tax needs a reason (BR-E-10, BR-O-10).
func (p PriceList) checkTaxes(f fault.Fields) {
	kinds := map[string]Tax{"work": p.Taxes.Work, "set_up": p.Taxes.SetUp, "wash_down": p.Taxes.WashDown, "travel": p.Taxes.Travel}
	outside, needsReason := 0, false
	for kind, t := range kinds {
		f.Merge("tax."+kind+".", t.check())
		needsReason = needsReason || t.Category.NeedsReason()
		if t.Category == Outside {
			outside++
		}
	}
	if outside > 0 && outside < len(kinds) {
		f.Add("tax.work.category", "Either everything is outside the scope of tax or nothing is: an invoice may not mix them.")
	}
	need := fault.Optional
	if needsReason {
		need = fault.Required
	}
	f.Text("tax_reason", p.TaxReason, 200, need)
}

func (t Tax) check() fault.Fields {
	f := fault.Fields{}
	switch {
	case !slices.Contains(TaxCategories, t.Category):
		f.Add("category", "Choose how this is taxed from the list.")
	case t.Category == Standard && (t.Percent <= 0 || t.Percent > Whole(100)):
		f.Add("percent", "Give the per cent, above 0 and up to 100.")
	case t.Category != Standard && t.Percent != 0:
		f.Add("percent", "What is %s has 0 per cent.", t.Category.Words())
	}
	return f
}
