package demo

import (
	"context"
	"time"

	"drawbar/billing"
	"drawbar/booking"

	"cloud.google.com/go/civil"
)

const usd = billing.Currency("USD")

// rates of the demo, in ten-thousandths of a dollar for each head: invented.
var rates = map[string][]billing.Tier{
	"drench": {{From: 1, Rate: 8500}, {From: 201, Rate: 7000}}, "inject": {{From: 1, Rate: 9500}, {From: 201, Rate: 8000}},
	"ear-tag": {{From: 1, Rate: 16000}}, "weigh": {{From: 1, Rate: 7000}}, "sort": {{From: 1, Rate: 4500}}, "condition": {{From: 1, Rate: 6000}},
	"foot-check": {{From: 1, Rate: 12000}}, "foot-trim": {{From: 1, Rate: 45000}}, "crutch": {{From: 1, Rate: 22000}},
	"scan": {{From: 1, Rate: 11000}, {From: 301, Rate: 9500}}, "lamb-mark": {{From: 1, Rate: 24000}}, "pour-on": {{From: 1, Rate: 6000}},
}

// priceList of the demo. Delaware levies no sales tax; the demo's is invented
// so that tax shows on its invoices.
func (l *loader) priceList() billing.PriceList {
	tax := billing.Tax{Category: billing.Standard, Percent: billing.Whole(5)}
	list := billing.PriceList{
		Name: "By the head", ValidFrom: l.today.AddDays(-400), Currency: usd,
		Minimum: usd.Of(12000), SetUp: usd.Of(4500), WashDown: usd.Of(3000),
		Travel: billing.Travel{Unit: billing.Kilometres, Rate: 5500, Free: 20},
		Taxes:  billing.Taxes{Work: tax, SetUp: tax, WashDown: tax, Travel: tax},
		Terms:  billing.Terms{Days: 21, PayTo: "Pennyfold Stock Handling\nAccount DEMO-0000 (invented)"},
	}
	for service, tiers := range rates {
		list.Prices = append(list.Prices, billing.Price{Service: service, Tiers: tiers})
	}
	list.Prices = append(list.Prices, billing.Price{Service: "foot-check", Class: booking.Ram, Tiers: []billing.Tier{{From: 1, Rate: 25000}}})
	list.Sort()
	return list
}

// loadPrices stores the price list.
func (l *loader) loadPrices(ctx context.Context) error {
	list := l.priceList()
	return l.Biller.Store.SavePriceList(ctx, &list)
}

// loadMoney runs the months that are over, and has most farms pay.
func (l *loader) loadMoney(ctx context.Context) error {
	books := l.people["office"]
	ctx = booking.As(ctx, booking.Actor{Kind: booking.ByPerson, ID: books.ID, Name: books.Name})
	for m := billing.MonthOf(l.today.AddDays(-7 * weeksBehind)); m.Before(billing.MonthOf(l.today)); m = m.Next(1) {
		if err := l.runMonth(ctx, m); err != nil {
			return err
		}
	}
	return l.credit(ctx)
}

// runMonth bills a month on the second of the next.
func (l *loader) runMonth(ctx context.Context, m billing.Month) error {
	day := m.Next(1).First().AddDays(1)
	if day.After(l.today) {
		day = l.today
	}
	var result billing.RunResult
	err := l.Clock.at(l.at(day, 9*60), func() (err error) {
		result, err = l.Biller.Run(ctx, m)
		return err
	})
	if err != nil {
		return err
	}
	return l.pay(ctx, result.Issued)
}

// pay records payments: four of five farms pay after some weeks.
func (l *loader) pay(ctx context.Context, invoices []billing.Invoice) error {
	for i, invoice := range invoices {
		paid := invoice.Date.AddDays(8 + l.random.IntN(18))
		if i%5 == 4 || !paid.Before(l.today) {
			continue
		}
		payment := billing.Payment{ID: booking.NewID(), InvoiceID: invoice.ID, Day: paid, Amount: invoice.Totals.Gross, How: "bank"}
		if err := l.payOn(ctx, payment, paid); err != nil {
			return err
		}
	}
	return nil
}

func (l *loader) payOn(ctx context.Context, p billing.Payment, day civil.Date) error {
	return l.Clock.at(l.at(day, 16*60), func() error { return l.Biller.Pay(ctx, p) })
}

// credit takes back the drive of the oldest invoice that is still open.
func (l *loader) credit(ctx context.Context) error {
	open, err := l.Biller.Store.Accounts(ctx, billing.AccountQuery{Open: true})
	if err != nil || len(open) == 0 {
		return err
	}
	account, err := l.Biller.Store.Account(ctx, open[len(open)-1].Invoice.ID)
	if err != nil {
		return err
	}
	for i, line := range account.Invoice.Lines {
		if line.Kind == billing.ForTravel {
			note := billing.Credit{Invoice: account.Invoice.ID, Lines: []int{i + 1}, Reason: "We were at the neighbour's that day"}
			return l.Clock.at(l.Now().Add(-24*time.Hour), func() error {
				_, err := l.Biller.Credit(ctx, note)
				return err
			})
		}
	}
	return nil
}
