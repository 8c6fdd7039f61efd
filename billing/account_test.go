package billing_test

import (
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

func account(t testing.TB, due string, paid ...int64) billing.Account {
	d, err := civil.ParseDate(due)
	if err != nil {
		t.Fatal(err)
	}
	a := billing.Account{Invoice: billing.Invoice{Kind: billing.AnInvoice, Due: d, Totals: billing.Totals{Gross: usd.Of(10000)}}}
	for _, p := range paid {
		a.Payments = append(a.Payments, billing.Payment{Amount: usd.Of(p)})
	}
	return a
}

func TestOpenIsGrossLessCreditsAndPayments(t *testing.T) {
	a := account(t, "2026-04-01", 2500, 4000)
	a.Payments[1].Struck = time.Unix(1, 0)
	a.Notes = []billing.Invoice{{Totals: billing.Totals{Gross: usd.Of(1000)}}}
	if got := a.Open(); got != usd.Of(6500) {
		t.Errorf("open %s, want 100 - 25 - 10 = 65", got)
	}
}

// The buckets of common practice (no source): 1-30, 31-60, 61-90, over 90.
func TestAgeing(t *testing.T) {
	today := civil.Date{Year: 2026, Month: 6, Day: 30}
	accounts := []billing.Account{
		account(t, "2026-06-30"), account(t, "2026-06-29"), account(t, "2026-05-31"), account(t, "2026-05-30"),
		account(t, "2026-04-01"), account(t, "2026-03-31"), account(t, "2026-01-01", 10000), account(t, "2026-01-01", 12000),
	}
	a := billing.Age(usd, accounts, today)
	want := billing.Ageing{
		NotDue: usd.Of(10000), To30: usd.Of(20000), To60: usd.Of(10000), To90: usd.Of(10000), Older: usd.Of(10000),
		InCredit: usd.Of(-2000), Total: usd.Of(58000),
	}
	if a != want {
		t.Errorf("got %+v\nwant %+v", a, want)
	}
	if late := accounts[1].Overdue(today); late != 1 || accounts[6].Overdue(today) != 0 {
		t.Errorf("late %d days", late)
	}
}

func TestPaymentCheckNamesTheField(t *testing.T) {
	today := civil.Date{Year: 2026, Month: 6, Day: 30}
	good := billing.Payment{Amount: usd.Of(100), Day: today, How: "bank"}
	if err := good.Check(usd.Of(100), today); err != nil {
		t.Error(err)
	}
	for name, c := range map[string]struct {
		spoil func(p *billing.Payment)
		open  int64
		field string
	}{
		"nothing":        {func(p *billing.Payment) { p.Amount.Minor = 0 }, 100, "amount"},
		"other currency": {func(p *billing.Payment) { p.Amount.Currency = "EUR" }, 100, "amount"},
		"too much":       {func(p *billing.Payment) {}, 99, "amount"},
		"settled":        {func(p *billing.Payment) {}, 0, "amount"},
		"no day":         {func(p *billing.Payment) { p.Day = civil.Date{} }, 100, "day"},
		"tomorrow":       {func(p *billing.Payment) { p.Day = today.AddDays(1) }, 100, "day"},
		"how":            {func(p *billing.Payment) { p.How = "\x01" }, 100, "how"},
	} {
		p := good
		c.spoil(&p)
		if err := p.Check(usd.Of(c.open), today); len(fault.FieldsOf(err)) != 1 || fault.FieldsOf(err)[c.field] == "" {
			t.Errorf("%s: %v", name, fault.FieldsOf(err))
		}
	}
}
