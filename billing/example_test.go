package billing_test

import (
	"fmt"

	"drawbar/billing"
	"drawbar/booking"
)

func ExampleQuote() {
	each, _ := billing.ParseRate("0.45", "EUR")
	taxed := billing.Tax{Category: billing.Standard, Percent: billing.Whole(23)}
	list := billing.PriceList{
		Currency: "EUR", Minimum: billing.Money{Minor: 9000, Currency: "EUR"},
		Prices: []billing.Price{{Service: "drench", Tiers: []billing.Tier{{From: 1, Rate: each}}}},
		Taxes:  billing.Taxes{Work: taxed},
	}
	work := billing.Work{Lines: []billing.WorkLine{{Service: "drench", Name: "Drench", Class: booking.Ewe, Head: 120}}}
	quoted := billing.Quote(list, work, billing.Trip{})
	for _, line := range quoted.Lines {
		fmt.Printf("%s: %s (%s)\n", line.Text, line.Net, line.Why)
	}
	totals := billing.Sum("EUR", quoted.Lines)
	fmt.Println(totals.Net, "+", totals.Tax, "=", totals.Gross)
	// Output:
	// Drench, ewes: €54.00 (120 ewes at €0.45 each.)
	// Up to the minimum charge: €36.00 (The visit came to €54.00; the least we charge for one, before travel, is €90.00.)
	// €90.00 + €20.70 = €110.70
}
