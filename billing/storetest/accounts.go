package storetest

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
)

func payment(of billing.Invoice, minor int64) billing.Payment {
	return billing.Payment{ID: booking.NewID(), InvoiceID: of.ID, Day: april, Amount: usd.Of(minor), How: "bank"}
}

func open(t *testing.T, b Bench, id booking.ID) billing.Money {
	t.Helper()
	account, err := b.Store.Account(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	return account.Open()
}

func payments(t *testing.T, b Bench) {
	i := issue(t, b, b.Farms[0], booking.NewID())
	p := payment(i, 10000)
	for range 2 { // sent twice, counts once
		if err := b.Store.Pay(t.Context(), p, april); err != nil {
			t.Fatal(err)
		}
	}
	if got := open(t, b, i.ID); got != usd.Of(5950) {
		t.Errorf("%s open", got)
	}
	if err := b.Store.Pay(t.Context(), payment(i, 5951), april); fault.FieldsOf(err)["amount"] == "" {
		t.Errorf("paying too much: %v", err)
	}
	for range 2 {
		if err := b.Store.StrikePayment(t.Context(), p.ID); err != nil {
			t.Fatal(err)
		}
	}
	if got := open(t, b, i.ID); got != usd.Of(15950) {
		t.Errorf("%s open after the payment was taken back", got)
	}
	note := credit(t, b, billing.Credit{Invoice: i.ID})
	if err := b.Store.Pay(t.Context(), payment(note, 1), april); !fault.Is(err, fault.Invalid) {
		t.Errorf("paying a credit note: %v", err)
	}
}

func paymentsAtOnce(t *testing.T, b Bench) {
	i := issue(t, b, b.Farms[0], booking.NewID())
	var won atomic.Int32
	var done sync.WaitGroup
	for range 8 {
		done.Go(func() {
			if b.Store.Pay(t.Context(), payment(i, 15950), april) == nil {
				won.Add(1)
			}
		})
	}
	done.Wait()
	if got := open(t, b, i.ID); won.Load() != 1 || got != usd.Of(0) {
		t.Errorf("%d payments went through, %s open", won.Load(), got)
	}
}

func accountsArePicked(t *testing.T, b Bench) {
	paid := issue(t, b, b.Farms[0], booking.NewID())
	half := issue(t, b, b.Farms[0], booking.NewID())
	other := issue(t, b, b.Farms[1], booking.NewID())
	credited := issue(t, b, b.Farms[1], booking.NewID())
	credit(t, b, billing.Credit{Invoice: credited.ID})
	for _, p := range []billing.Payment{payment(paid, 15950), payment(half, 100)} {
		if err := b.Store.Pay(t.Context(), p, april); err != nil {
			t.Fatal(err)
		}
	}
	for name, c := range map[string]struct {
		query billing.AccountQuery
		want  []billing.Invoice
	}{
		"all":         {billing.AccountQuery{}, []billing.Invoice{credited, other, half, paid}},
		"open":        {billing.AccountQuery{Open: true}, []billing.Invoice{other, half}},
		"farm":        {billing.AccountQuery{FarmID: b.Farms[0].ID}, []billing.Invoice{half, paid}},
		"month":       {billing.AccountQuery{Month: march}, []billing.Invoice{credited, other, half, paid}},
		"other month": {billing.AccountQuery{Month: march.Next(1)}, nil},
		"limit":       {billing.AccountQuery{Limit: 1}, []billing.Invoice{credited}},
	} {
		got, err := b.Store.Accounts(t.Context(), c.query)
		if err != nil || len(got) != len(c.want) {
			t.Errorf("%s: %d accounts (%v), want %d", name, len(got), err, len(c.want))
			continue
		}
		for n := range got {
			if got[n].Invoice.Number != c.want[n].Number {
				t.Errorf("%s: %s at %d, want %s", name, got[n].Invoice.Number, n, c.want[n].Number)
			}
		}
	}
}

func runs(t *testing.T, b Bench) {
	ctx := t.Context()
	if run, err := b.Store.MonthRun(ctx, march); err != nil || run.State != billing.NotRun {
		t.Errorf("before: %+v, %v", run, err)
	}
	begun, err := b.Store.BeginRun(ctx, march)
	if err != nil || begun.State != billing.Running || begun.Started.IsZero() {
		t.Errorf("begun: %+v, %v", begun, err)
	}
	done, err := b.Store.FinishRun(ctx, march)
	if err != nil || done.State != billing.RunDone || done.Finished.IsZero() {
		t.Errorf("done: %+v, %v", done, err)
	}
	again, err := b.Store.FinishRun(ctx, march)
	if err != nil || !again.Finished.Equal(done.Finished) {
		t.Errorf("again: %+v, %v", again, err)
	}
	if _, err := b.Store.BeginRun(ctx, march.Next(1)); err != nil {
		t.Error(err)
	}
	all, err := b.Store.MonthRuns(ctx)
	if err != nil || len(all) != 2 || all[0].Month != march.Next(1) || all[1].State != billing.RunDone {
		t.Errorf("all: %+v, %v", all, err)
	}
}

func waived(t *testing.T, b Bench) {
	docket := booking.NewID()
	if err := b.Store.Waive(t.Context(), docket, " "); fault.FieldsOf(err)["reason"] == "" {
		t.Errorf("waived without a reason: %v", err)
	}
	if err := b.Store.Waive(t.Context(), docket, "Trial day"); err != nil {
		t.Fatal(err)
	}
	if billed, ok, err := b.Store.Billed(t.Context(), docket); err != nil || !ok || billed.Waived != "Trial day" || billed.Invoice.ID != "" {
		t.Errorf("%+v, %v, %v", billed, ok, err)
	}
	if _, err := b.Store.Issue(t.Context(), draft(b.Farms[0], docket), render); !fault.Is(err, fault.Conflict) {
		t.Errorf("billing a waived docket: %v", err)
	}
	if err := b.Store.Waive(t.Context(), docket, "Again"); !fault.Is(err, fault.Conflict) {
		t.Errorf("waiving again: %v", err)
	}
}

func unknown(t *testing.T, b Bench) {
	id := booking.NewID()
	for name, call := range map[string]func(ctx context.Context) error{
		"price list": func(ctx context.Context) error { _, err := b.Store.PriceList(ctx, id); return err },
		"account":    func(ctx context.Context) error { _, err := b.Store.Account(ctx, id); return err },
		"pdf":        func(ctx context.Context) error { _, _, err := b.Store.PDF(ctx, id); return err },
		"pay":        func(ctx context.Context) error { return b.Store.Pay(ctx, payment(billing.Invoice{ID: id}, 1), april) },
		"strike":     func(ctx context.Context) error { return b.Store.StrikePayment(ctx, id) },
		"credit": func(ctx context.Context) error {
			_, err := b.Store.Credit(ctx, billing.Credit{Invoice: id, Reason: "x"}, april, render)
			return err
		},
	} {
		if err := call(t.Context()); !fault.Is(err, fault.NotFound) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func changesAreRecorded(t *testing.T, b Bench) {
	ctx := booking.As(t.Context(), booking.Actor{Kind: booking.ByPerson, ID: booking.NewID(), Name: "Ann"})
	issued, err := b.Store.Issue(ctx, draft(b.Farms[0], booking.NewID()), render)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Store.Pay(ctx, payment(issued, 100), april); err != nil {
		t.Fatal(err)
	}
	changes, err := b.Changes(ctx, "invoice")
	if err != nil || len(changes) != 2 {
		t.Fatalf("%d changes (%v)", len(changes), err)
	}
	if c := changes[1]; c.Verb != "issued" || c.Subject != issued.ID || c.Who.Name != "Ann" || c.Detail != "2026-0001 to "+b.Farms[0].Name+": $159.50" {
		t.Errorf("%+v", c)
	}
}
