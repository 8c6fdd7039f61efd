package billing

import (
	"context"

	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// Expected is what a booking is expected to cost.
type Expected struct {
	Quoted
	Totals Totals
	List   string // name of the price list
}

// ExpectedWork reads a booking as the work of one visit.
func ExpectedWork(b booking.Booking, yard booking.Yard, known map[string]booking.Service, day civil.Date, washDown bool) Work {
	w := Work{FarmID: b.FarmID, YardID: yard.ID, YardName: yard.Name, Day: day, SetUp: true, WashDown: washDown}
	for _, m := range b.Mobs {
		for _, code := range m.Services {
			w.Lines = append(w.Lines, WorkLine{Service: code, Name: nameOf(code, nil, known), Class: m.Class, Head: m.Head})
		}
	}
	return w
}

// Expect prices a booking as if it were one visit on a day, by the rules that
// will price its docket. The yard may be new and without an id. ok is false
// where no price list holds on that day.
func (b Biller) Expect(ctx context.Context, asked booking.Booking, yard booking.Yard, day civil.Date, washDown bool) (e Expected, ok bool, err error) {
	lists, err := b.Store.PriceLists(ctx)
	if err != nil {
		return e, false, err
	}
	list, ok := ListOn(lists, day)
	if !ok {
		return e, false, nil
	}
	services, err := b.Trade.Services(ctx)
	if err != nil {
		return e, false, err
	}
	trip, err := b.tripTo(ctx, yard)
	if err != nil {
		return e, false, err
	}
	e.Quoted = Quote(list, ExpectedWork(asked, yard, booking.ByCode(services), day, washDown), trip)
	e.Totals, e.List = Sum(list.Currency, e.Lines), list.Name
	return e, true, nil
}
