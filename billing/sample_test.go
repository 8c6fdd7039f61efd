package billing_test

import (
	"testing"

	"drawbar/billing"
	"drawbar/booking"

	"cloud.google.com/go/civil"
)

const usd = billing.Currency("USD")

var services = map[string]booking.Service{
	"drench": {Code: "drench", Name: "Drench"}, "foot-trim": {Code: "foot-trim", Name: "Foot trim"}, "scan": {Code: "scan", Name: "Scan"},
}

func rate(t testing.TB, text string) billing.Rate {
	t.Helper()
	r, err := billing.ParseRate(text, usd)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// priceList is an invented list: drench in two steps for all classes, one
// price for foot trim of ewes.
func priceList(t testing.TB) billing.PriceList {
	standard := billing.Tax{Category: billing.Standard, Percent: billing.Whole(25)}
	return billing.PriceList{
		ID: booking.NewID(), Name: "2026", ValidFrom: civil.Date{Year: 2026, Month: 1, Day: 1}, Currency: usd,
		Prices: []billing.Price{
			{Service: "drench", Tiers: []billing.Tier{{From: 1, Rate: rate(t, "0.50")}, {From: 101, Rate: rate(t, "0.4525")}}},
			{Service: "foot-trim", Class: booking.Ewe, Tiers: []billing.Tier{{From: 1, Rate: rate(t, "2.75")}}},
		},
		Minimum: usd.Of(12000), SetUp: usd.Of(4000), WashDown: usd.Of(2500),
		Travel: billing.Travel{Unit: billing.Kilometres, Rate: rate(t, "0.60"), Free: 10},
		Taxes:  billing.Taxes{Work: standard, SetUp: standard, WashDown: standard, Travel: standard},
		Terms:  billing.Terms{Days: 30, PayTo: "Account 12-345 at the county bank"},
	}
}

func work(lines ...billing.WorkLine) billing.Work {
	return billing.Work{
		DocketID: booking.NewID(), FarmID: booking.NewID(), YardName: "Top Yard", SetUp: true,
		Day: civil.Date{Year: 2026, Month: 3, Day: 9}, Lines: lines,
	}
}

func drench(class booking.Class, head int) billing.WorkLine {
	return billing.WorkLine{Service: "drench", Name: "Drench", Class: class, Head: head}
}

func trip(metres int64) billing.Trip {
	return billing.Trip{Metres: metres, Known: true, Estimate: true}
}
