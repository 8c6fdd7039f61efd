package storetest

import (
	"testing"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"github.com/google/go-cmp/cmp"
)

func list(from string) billing.PriceList {
	day, _ := civil.ParseDate(from)
	return billing.PriceList{
		Name: "From " + from, ValidFrom: day, Currency: usd,
		Prices: []billing.Price{
			{Service: "drench", Tiers: []billing.Tier{{From: 1, Rate: 5000}, {From: 101, Rate: 4525}}},
			{Service: "scan", Class: booking.Ewe, Tiers: []billing.Tier{{From: 1, Rate: 12500}}},
		},
		Minimum: usd.Of(12000), SetUp: usd.Of(4000), WashDown: usd.Of(2500),
		Travel:    billing.Travel{Unit: billing.Miles, Rate: 6000, Free: 10},
		Taxes:     billing.Taxes{Work: taxed, SetUp: taxed, WashDown: taxed, Travel: billing.Tax{Category: billing.ZeroRate}},
		TaxReason: "None", Terms: billing.Terms{Days: 30, PayTo: "Account 12\nRiver Bank"},
	}
}

func save(t *testing.T, b Bench, p billing.PriceList) billing.PriceList {
	t.Helper()
	if err := b.Store.SavePriceList(t.Context(), &p); err != nil {
		t.Fatal(err)
	}
	return p
}

func priceListsReadBack(t *testing.T, b Bench) {
	spring := save(t, b, list("2026-03-01"))
	summer := save(t, b, list("2026-06-01"))
	if spring.ID == "" || spring.Version != 1 {
		t.Errorf("saved as %q, version %d", spring.ID, spring.Version)
	}
	spring.Name, spring.Minimum = "Spring", usd.Of(9900)
	spring = save(t, b, spring)
	got, err := b.Store.PriceLists(t.Context())
	if diff := cmp.Diff([]billing.PriceList{summer, spring}, got); err != nil || diff != "" {
		t.Errorf("%v, want - got +:\n%s", err, diff)
	}
	one, err := b.Store.PriceList(t.Context(), spring.ID)
	if diff := cmp.Diff(spring, one); err != nil || diff != "" || one.Version != 2 {
		t.Errorf("%v, want - got +:\n%s", err, diff)
	}
}

func priceListsKeepApart(t *testing.T, b Bench) {
	save(t, b, list("2026-03-01"))
	second := list("2026-03-01")
	err := b.Store.SavePriceList(t.Context(), &second)
	if !fault.Is(err, fault.Invalid) || fault.FieldsOf(err)["valid_from"] == "" || second.ID != "" {
		t.Errorf("a second list from one day: %v, %+v", err, second.ID)
	}
}

func priceListsNoticeRivals(t *testing.T, b Bench) {
	mine := save(t, b, list("2026-03-01"))
	theirs := mine
	save(t, b, theirs)
	mine.Name = "Mine"
	if err := b.Store.SavePriceList(t.Context(), &mine); !fault.Is(err, fault.Conflict) || mine.Version != 1 {
		t.Errorf("saving an old version: %v", err)
	}
	mine.ID, mine.ValidFrom = booking.NewID(), mine.ValidFrom.AddDays(1)
	if err := b.Store.SavePriceList(t.Context(), &mine); !fault.Is(err, fault.NotFound) {
		t.Errorf("saving what was never there: %v", err)
	}
}
