package billing_test

import (
	"testing"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

func TestGoodPriceListPasses(t *testing.T) {
	if err := priceList(t).Check(services); err != nil {
		t.Error(err, fault.FieldsOf(err))
	}
}

func TestCheckNamesTheField(t *testing.T) {
	standard := billing.Standard
	cases := map[string]func(p *billing.PriceList){
		"name":                   func(p *billing.PriceList) { p.Name = " " },
		"valid_from":             func(p *billing.PriceList) { p.ValidFrom = civil.Date{} },
		"minimum":                func(p *billing.PriceList) { p.Minimum.Minor = -1 },
		"set_up":                 func(p *billing.PriceList) { p.SetUp.Currency = "EUR" },
		"wash_down":              func(p *billing.PriceList) { p.WashDown.Minor = 1 << 60 },
		"prices":                 func(p *billing.PriceList) { p.Prices = nil },
		"price.1.service":        func(p *billing.PriceList) { p.Prices[1].Service = "unknown" },
		"price.0.class":          func(p *billing.PriceList) { p.Prices[0].Class = "cow" },
		"price.0.tier.0.from":    func(p *billing.PriceList) { p.Prices[0].Tiers[0].From = 2 },
		"price.0.tier.1.from":    func(p *billing.PriceList) { p.Prices[0].Tiers[1].From = 1 },
		"price.0.tier.1.rate":    func(p *billing.PriceList) { p.Prices[0].Tiers[1].Rate = -1 },
		"price.1.tier.0.rate":    func(p *billing.PriceList) { p.Prices[1].Tiers = nil },
		"travel.unit":            func(p *billing.PriceList) { p.Travel.Unit = "furlong" },
		"travel.rate":            func(p *billing.PriceList) { p.Travel.Rate = -1 },
		"travel.free":            func(p *billing.PriceList) { p.Travel.Free = -1 },
		"tax.set_up.percent":     func(p *billing.PriceList) { p.Taxes.SetUp = billing.Tax{Category: standard} },
		"tax.travel.percent":     func(p *billing.PriceList) { p.Taxes.Travel = billing.Tax{Category: billing.ZeroRate, Percent: 1} },
		"tax.wash_down.category": func(p *billing.PriceList) { p.Taxes.WashDown.Category = "K" },
		"tax.work.category": func(p *billing.PriceList) {
			p.Taxes.Travel, p.TaxReason = billing.Tax{Category: billing.Outside}, "Not taxed here"
		},
		"tax_reason": func(p *billing.PriceList) { p.Taxes.Work = billing.Tax{Category: billing.Exempt} },
		"days":       func(p *billing.PriceList) { p.Terms.Days = 400 },
		"pay_to":     func(p *billing.PriceList) { p.Terms.PayTo = "\x00" },
	}
	for field, spoil := range cases {
		p := priceList(t)
		spoil(&p)
		err := p.Check(services)
		if fields := fault.FieldsOf(err); !fault.Is(err, fault.Invalid) || fields[field] == "" || len(fields) != 1 {
			t.Errorf("%s: got %v", field, fields)
		}
	}
	p := priceList(t)
	p.Prices = append(p.Prices, p.Prices[0])
	if fields := fault.FieldsOf(p.Check(services)); fields["price.2.service"] == "" {
		t.Errorf("a price given twice: %v", fields)
	}
}

func TestPriceOfAClassGoesBeforeThatForAll(t *testing.T) {
	p := priceList(t)
	p.Prices = append(p.Prices, billing.Price{Service: "drench", Class: booking.Ram, Tiers: []billing.Tier{{From: 1, Rate: billing.Whole(2)}}})
	if price, _ := p.PriceOf("drench", booking.Ram); price.Class != booking.Ram {
		t.Errorf("rams cost %+v", price)
	}
	if price, ok := p.PriceOf("drench", booking.Ewe); !ok || price.Class != "" {
		t.Errorf("ewes cost %+v", price)
	}
	if _, ok := p.PriceOf("foot-trim", booking.Kid); ok {
		t.Error("kids have a price for foot trim")
	}
}

func TestListOnADay(t *testing.T) {
	spring, summer := priceList(t), priceList(t)
	spring.ValidFrom, summer.ValidFrom = civil.Date{Year: 2026, Month: 3, Day: 1}, civil.Date{Year: 2026, Month: 6, Day: 1}
	lists := []billing.PriceList{summer, spring}
	for day, want := range map[string]booking.ID{"2026-02-28": "", "2026-03-01": spring.ID, "2026-05-31": spring.ID, "2026-06-01": summer.ID, "2030-01-01": summer.ID} {
		d, _ := civil.ParseDate(day)
		if got, ok := billing.ListOn(lists, d); got.ID != want || ok != (want != "") {
			t.Errorf("%s: %s (%v), want %s", day, got.ID, ok, want)
		}
	}
}

func TestSortPutsTiersInOrder(t *testing.T) {
	p := priceList(t)
	tiers := p.Prices[0].Tiers
	tiers[0], tiers[1] = tiers[1], tiers[0]
	p.Prices[0], p.Prices[1] = p.Prices[1], p.Prices[0]
	p.Sort()
	if p.Prices[0].Service != "drench" || p.Prices[0].Tiers[0].From != 1 || p.Check(services) != nil {
		t.Errorf("got %+v", p.Prices)
	}
}
