package billing

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Payment is money that came in for an invoice, recorded by hand.
type Payment struct {
	ID        booking.ID // made with the form, so that sending it twice counts once
	InvoiceID booking.ID
	Day       civil.Date
	Amount    Money
	How       string // "bank", "cheque 1042"
	Recorded  time.Time
	Struck    time.Time // when it was taken back as a mistake; zero otherwise
}

// Check says what is wrong with the entries, field by field, for an invoice
// of which so much is open.
func (p Payment) Check(open Money, today civil.Date) error {
	f := fault.Fields{}
	switch {
	case p.Amount.Currency != open.Currency || p.Amount.Minor <= 0:
		f.Add("amount", "Give the amount that came in, above 0.")
	case open.Minor <= 0:
		f.Add("amount", "Nothing is open on this invoice.")
	case p.Amount.Minor > open.Minor:
		f.Add("amount", "This is more than the %s that is open. Record what belongs to this invoice here and the rest with another.", open)
	}
	switch {
	case !p.Day.IsValid() || p.Day.Year < 2000:
		f.Add("day", "Give the day the money came in.")
	case p.Day.After(today):
		f.Add("day", "This day is still to come; give the day the money came in.")
	}
	f.Text("how", p.How, 80, fault.Optional)
	return f.Err()
}

// Account is an invoice with what became of it.
type Account struct {
	Invoice  Invoice
	Notes    []Invoice // credit notes, oldest first, without lines in lists
	Payments []Payment // oldest first, struck ones too
	Credited []int     // numbers of the lines taken back
}

// Open is what is still to be paid; below zero for what is to be paid back.
func (a Account) Open() Money {
	open := a.Invoice.Totals.Gross
	for _, n := range a.Notes {
		open = open.Sub(n.Totals.Gross)
	}
	for _, p := range a.Payments {
		if p.Struck.IsZero() {
			open = open.Sub(p.Amount)
		}
	}
	return open
}

// Overdue is the number of days since it should have been paid, 0 where
// nothing is late.
func (a Account) Overdue(today civil.Date) int {
	if a.Open().Minor <= 0 {
		return 0
	}
	return max(0, today.DaysSince(a.Invoice.Due))
}

// Ageing sorts what is open by how late it is.
type Ageing struct {
	NotDue, To30, To60, To90, Older Money // days overdue: none, 1-30, 31-60, 61-90, more
	InCredit                        Money // to be paid back or set off
	Total                           Money // all of the above, credit taken off
}

// Age adds up accounts of one currency.
func Age(c Currency, accounts []Account, today civil.Date) Ageing {
	none := c.Of(0)
	a := Ageing{NotDue: none, To30: none, To60: none, To90: none, Older: none, InCredit: none, Total: none}
	for _, account := range accounts {
		open := account.Open()
		bucket := a.bucket(open, account.Overdue(today))
		*bucket = bucket.Add(open)
		a.Total = a.Total.Add(open)
	}
	return a
}

func (a *Ageing) bucket(open Money, late int) *Money {
	switch {
	case open.Minor < 0:
		return &a.InCredit
	case late == 0:
		return &a.NotDue
	case late <= 30:
		return &a.To30
	case late <= 60:
		return &a.To60
	case late <= 90:
		return &a.To90
	}
	return &a.Older
}
