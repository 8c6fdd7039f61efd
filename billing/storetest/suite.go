package storetest

import (
	"context"
	"testing"

	"drawbar/billing"
	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// Bench is an empty store with what it rests on.
type Bench struct {
	Store   billing.Store
	Farms   []booking.Farm                                                   // at least two
	Changes func(ctx context.Context, kind string) ([]booking.Change, error) // the record
}

// Run holds a store to the suite; open gives each test a store of its own.
func Run(t *testing.T, open func(t *testing.T) Bench) {
	for name, test := range map[string]func(*testing.T, Bench){
		"price lists read back":     priceListsReadBack,
		"price lists keep apart":    priceListsKeepApart,
		"price lists notice rivals": priceListsNoticeRivals,
		"issued reads back":         issuedReadsBack,
		"docket billed once":        docketBilledOnce,
		"no gap after failure":      noGapAfterFailure,
		"series by year and kind":   seriesByYearAndKind,
		"16 issuers at once":        manyIssuersAtOnce,
		"credit by line and whole":  creditByLineAndWhole,
		"credit once at once":       creditOnceAtOnce,
		"rebill":                    rebill,
		"payments":                  payments,
		"payments at once":          paymentsAtOnce,
		"accounts are picked":       accountsArePicked,
		"runs":                      runs,
		"waived":                    waived,
		"unknown":                   unknown,
		"changes are recorded":      changesAreRecorded,
	} {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

const usd = billing.Currency("USD")

var (
	taxed = billing.Tax{Category: billing.Standard, Percent: billing.Whole(25)}
	march = billing.Month{Year: 2026, Month: 3}
	april = civil.Date{Year: 2026, Month: 4, Day: 1}
)

// draft is an invoice over dockets, with a line of 100.00 and one of 46 km
// at 0.60 for each; 127.60 net, 159.50 gross at 25 %.
func draft(farm booking.Farm, dockets ...booking.ID) billing.Invoice {
	list := billing.PriceList{Currency: usd, Terms: billing.Terms{Days: 30, PayTo: "Account 12"}, TaxReason: "None needed"}
	business := booking.Business{Name: "Alder Lane Sheep Work", Address: "Alder Lane 3", Country: "US", TaxID: "12-3456789"}
	var lines []billing.Line
	for _, id := range dockets {
		work := billing.Line{Kind: billing.ForWork, Text: "Drench, ewes", Why: "200 ewes at $0.50 each.", Quantity: 200, Unit: billing.Head, Rate: 5000, Net: usd.Of(10000)}
		travel := billing.Line{Kind: billing.ForTravel, Text: "Travel", Why: "46 km.", Quantity: 46, Unit: billing.Kilometres, Rate: 6000, Net: usd.Of(2760)}
		for _, l := range []billing.Line{work, travel} {
			l.Tax, l.DocketID, l.Day, l.Yard = taxed, id, civil.Date{Year: 2026, Month: 3, Day: 9}, "Top Yard"
			lines = append(lines, l)
		}
	}
	return billing.Draft(march, farm, business, list, lines, april)
}

// render stands for the drawing of a PDF: what matters here is that its bytes
// come back.
func render(i billing.Invoice) ([]byte, error) { return []byte("%PDF " + i.Number), nil }

func issue(t *testing.T, b Bench, farm booking.Farm, dockets ...booking.ID) billing.Invoice {
	t.Helper()
	issued, err := b.Store.Issue(t.Context(), draft(farm, dockets...), render)
	if err != nil {
		t.Fatal(err)
	}
	return issued
}
