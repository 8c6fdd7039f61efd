package storetest

import (
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
)

func credit(t *testing.T, b Bench, c billing.Credit) billing.Invoice {
	t.Helper()
	c.Reason = "A mistake"
	note, err := b.Store.Credit(t.Context(), c, april, render)
	if err != nil {
		t.Fatal(err)
	}
	return note
}

// 127.60 net: line 2 is 27.60 (6.90 tax), the rest 100.00 (25.00 tax).
func creditByLineAndWhole(t *testing.T, b Bench) {
	i := issue(t, b, b.Farms[0], booking.NewID())
	first := credit(t, b, billing.Credit{Invoice: i.ID, Lines: []int{2}})
	if first.Totals.Gross != usd.Of(3450) || first.Credits.Number != i.Number {
		t.Errorf("the first note is over %s, for %s", first.Totals.Gross, first.Credits.Number)
	}
	if _, err := b.Store.Credit(t.Context(), billing.Credit{Invoice: i.ID, Lines: []int{2}, Reason: "Again"}, april, render); !fault.Is(err, fault.Invalid) {
		t.Errorf("crediting a line again: %v", err)
	}
	second := credit(t, b, billing.Credit{Invoice: i.ID})
	account, err := b.Store.Account(t.Context(), second.ID)
	if err != nil || account.Invoice.ID != i.ID || account.Open() != usd.Of(0) || !slices.Equal(account.Credited, []int{1, 2}) || len(account.Notes) != 2 {
		t.Errorf("%s open, lines %v credited in %d notes (%v)", account.Open(), account.Credited, len(account.Notes), err)
	}
	if _, pdf, err := b.Store.PDF(t.Context(), second.ID); err != nil || string(pdf) != "%PDF C2026-0002" {
		t.Errorf("%q, %v", pdf, err)
	}
}

func creditOnceAtOnce(t *testing.T, b Bench) {
	i := issue(t, b, b.Farms[0], booking.NewID())
	var won atomic.Int32
	var done sync.WaitGroup
	for range 8 {
		done.Go(func() {
			_, err := b.Store.Credit(t.Context(), billing.Credit{Invoice: i.ID, Reason: "A mistake"}, april, render)
			switch {
			case err == nil:
				won.Add(1)
			case !fault.Is(err, fault.Invalid) && !fault.Is(err, fault.Conflict):
				t.Error(err)
			}
		})
	}
	done.Wait()
	account, err := b.Store.Account(t.Context(), i.ID)
	if err != nil || won.Load() != 1 || account.Open() != usd.Of(0) {
		t.Errorf("%d credit notes, %s open (%v)", won.Load(), account.Open(), err)
	}
}

func rebill(t *testing.T, b Bench) {
	first, second := booking.NewID(), booking.NewID()
	i := issue(t, b, b.Farms[0], first, second)
	part := billing.Credit{Invoice: i.ID, Lines: []int{1}, Reason: "Half", Rebill: true}
	if _, err := b.Store.Credit(t.Context(), part, april, render); !fault.Is(err, fault.Invalid) {
		t.Errorf("half a docket is billed anew: %v", err)
	}
	credit(t, b, billing.Credit{Invoice: i.ID, Lines: []int{1, 2}, Rebill: true})
	if _, ok, err := b.Store.Billed(t.Context(), first); ok || err != nil {
		t.Errorf("the freed docket still counts as billed (%v)", err)
	}
	if again := issue(t, b, b.Farms[0], first); again.Number != "2026-0002" {
		t.Errorf("billed anew as %s", again.Number)
	}
	credit(t, b, billing.Credit{Invoice: i.ID})
	if billed, ok, err := b.Store.Billed(t.Context(), second); !ok || !billed.Credited || err != nil {
		t.Errorf("the other docket: %+v, %v, %v", billed, ok, err)
	}
}
