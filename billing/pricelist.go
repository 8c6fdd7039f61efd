package billing

import (
	"cmp"
	"slices"
	"strings"

	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// PriceList holds what everything costs from one day until the next list
// takes over. Amounts are before tax.
type PriceList struct {
	ID        booking.ID
	Name      string
	ValidFrom civil.Date
	Currency  Currency
	Prices    []Price
	Minimum   Money // the least for a visit's work, set-up and wash-down
	SetUp     Money // for each setting up
	WashDown  Money // for each visit that ends with one
	Travel    Travel
	Taxes     Taxes
	TaxReason string // printed where a line is exempt or outside the scope
	Terms     Terms
	Version   int
}

// Price is what one service costs for each head.
type Price struct {
	Service string        // code
	Class   booking.Class // "" for all that have no price of their own
	Tiers   []Tier        // the first from head 1, rising
}

// Tier is a price for each head from one head of the visit on. Tiers are
// graduated: head 101 at a lower price does not make the first 100 cheaper,
// so that one animal more never costs less in total.
type Tier struct {
	From int // 1 or more
	Rate Rate
}

// Travel is the charge for the drive there and back.
type Travel struct {
	Unit Unit // Kilometres or Miles
	Rate Rate // for each unit; 0 for no charge
	Free int  // units there and back that cost nothing
}

// Taxes are by what is charged. The top-up to the minimum follows Work.
type Taxes struct {
	Work, SetUp, WashDown, Travel Tax
}

// Terms are how an invoice is to be paid.
type Terms struct {
	Days  int    // from the date of the invoice
	PayTo string // lines: account, holder, how else
}

// PriceOf is the price of a service for a class: its own, else that for all.
func (p PriceList) PriceOf(service string, class booking.Class) (Price, bool) {
	for _, of := range []booking.Class{class, ""} {
		i := slices.IndexFunc(p.Prices, func(x Price) bool { return x.Service == service && x.Class == of })
		if i >= 0 {
			return p.Prices[i], true
		}
	}
	return Price{}, false
}

// Sort puts prices in order of service and class, and tiers in rising order.
func (p *PriceList) Sort() {
	slices.SortStableFunc(p.Prices, func(a, b Price) int {
		return cmp.Or(strings.Compare(a.Service, b.Service), strings.Compare(string(a.Class), string(b.Class)))
	})
	for _, price := range p.Prices {
		slices.SortStableFunc(price.Tiers, func(a, b Tier) int { return cmp.Compare(a.From, b.From) })
	}
}

// ListOn picks the list that holds on a day, in any order of lists.
func ListOn(lists []PriceList, day civil.Date) (PriceList, bool) {
	var found PriceList
	for _, l := range lists {
		if !l.ValidFrom.After(day) && (found.ID == "" || l.ValidFrom.After(found.ValidFrom)) {
			found = l
		}
	}
	return found, found.ID != ""
}
