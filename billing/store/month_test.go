package store_test

import (
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"

	"drawbar/billing"
	"drawbar/billing/document"
	"drawbar/booking"
)

// One invoice for each farm over its dockets: 120 + 80 head at 1.00 and 10 %
// are 220.00; 45 head are 49.50.
func TestRunBillsEachFarmOnce(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		first, second := s.farm(), s.farm()
		s.docket(first, 120)
		s.docket(second, 45)
		s.docket(first, 80)
		p := s.preview()
		if len(p.Farms) != 2 || len(p.Held) != 0 || p.Run.State != billing.NotRun || p.Totals[0].String() != "$269.50" {
			s.Fatalf("the preview is %+v", p)
		}
		if len(s.issued()) != 0 {
			s.Fatal("the preview issued something")
		}
		result := s.run()
		if result.Run.State != billing.RunDone || len(result.Issued) != 2 {
			s.Fatalf("the run is %s with %d invoices", result.Run.State, len(result.Issued))
		}
		gross := map[booking.ID]string{first.ID: "$220.00", second.ID: "$49.50"}
		for n, i := range s.issued() {
			if i.Number != fmt.Sprintf("2026-%04d", n+1) || i.Totals.Gross.String() != gross[i.FarmID] {
				s.Errorf("%s to %s over %s", i.Number, i.Buyer.Name, i.Totals.Gross)
			}
		}
		before := s.changes()
		if again := s.run(); len(again.Issued) != 0 || s.changes() != before || len(s.issued()) != 2 {
			s.Error("running again changed something")
		}
	})
}

func TestLateDocketIsBilledByTheNextRun(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		farm := s.farm()
		s.docket(farm, 10)
		s.run()
		s.docket(farm, 20)
		p, err := s.biller.Preview(s.Context(), april.Next(1))
		s.must(err)
		if len(p.Farms) != 1 || len(p.Farms[0].Warnings) != 1 || !strings.Contains(p.Farms[0].Warnings[0], "from an earlier month") {
			s.Errorf("May's preview is %+v", p.Farms)
		}
		if result := s.run(); len(result.Issued) != 1 || result.Issued[0].Totals.Gross.String() != "$22.00" {
			s.Errorf("the second run issued %+v", result.Issued)
		}
	})
}

// The program dies after two of five invoices; the next run does the rest.
func TestRunGoesOnWhereItStopped(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		for range 5 {
			s.docket(s.farm(), 10)
		}
		s.biller.Render = breaking(2)
		if _, err := s.biller.Run(s.Context(), april); !errors.Is(err, errNoInk) {
			s.Fatalf("got %v", err)
		}
		if p := s.preview(); p.Run.State != billing.Running || len(p.Farms) != 3 {
			s.Errorf("half-way: %s, %d farms left", p.Run.State, len(p.Farms))
		}
		s.biller.Render = document.Render
		if result := s.run(); result.Run.State != billing.RunDone || len(result.Issued) != 3 {
			s.Errorf("then: %s, %d invoices", result.Run.State, len(result.Issued))
		}
		s.billedOnce(5)
	})
}

// billedOnce checks that so many dockets stand on invoices, none twice, and
// that the numbers count up from 1.
func (s *shop) billedOnce(dockets int) {
	s.Helper()
	seen := map[booking.ID]string{}
	for n, i := range s.issued() {
		if want := fmt.Sprintf("2026-%04d", n+1); i.Number != want {
			s.Errorf("number %s, want %s", i.Number, want)
		}
		for _, id := range i.Dockets() {
			if seen[id] != "" {
				s.Errorf("docket %s is on %s and %s", id, seen[id], i.Number)
			}
			seen[id] = i.Number
		}
	}
	if len(seen) != dockets {
		s.Errorf("%d dockets are billed, want %d", len(seen), dockets)
	}
}

func TestTwoRunsAtOnceShareTheWork(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		for range 8 {
			farm := s.farm()
			s.docket(farm, 10)
			s.docket(farm, 5)
		}
		var done sync.WaitGroup
		results := make([]billing.RunResult, 4)
		for n := range results {
			done.Go(func() {
				var err error
				if results[n], err = s.biller.Run(t.Context(), april); err != nil {
					s.Error(err)
				}
			})
		}
		done.Wait()
		total := 0
		for _, r := range results {
			total += len(r.Issued)
			if r.Run.State != billing.RunDone {
				s.Errorf("a run is %s", r.Run.State)
			}
		}
		if total != 8 {
			s.Errorf("%d invoices, want 8", total)
		}
		s.billedOnce(16)
	})
}

func TestHeldDocketsSayWhy(t *testing.T) {
	eachShop(t, func(s *shop) {
		farm := s.farm()
		early := s.docket(farm, 10)
		if p := s.preview(); len(p.Held) != 1 || !strings.Contains(p.Held[0].Why, "No price list holds") || p.Held[0].Day != day(0) {
			s.Errorf("without prices: %+v", p.Held)
		}
		s.price()
		weighed := s.docket(farm, 10, "drench", "weigh")
		nothing := s.docket(farm, 0)
		p := s.preview()
		if len(p.Held) != 2 || len(p.Farms) != 1 || len(p.Farms[0].Invoice.Dockets()) != 1 || p.Farms[0].Invoice.Dockets()[0] != early.ID {
			s.Fatalf("held %+v, billed %+v", p.Held, p.Farms)
		}
		for n, want := range []string{"There is no price for Weigh of 10 ewes.", "Nothing was counted."} {
			if !strings.Contains(p.Held[n].Why, want) {
				s.Errorf("held because %q, want %q", p.Held[n].Why, want)
			}
		}
		s.must(s.biller.Store.Waive(s.Context(), nothing.ID, "Called off at the gate"))
		s.must(s.biller.Store.Waive(s.Context(), weighed.ID, "A trial"))
		if result := s.run(); len(result.Held) != 0 || len(result.Issued) != 1 {
			s.Errorf("held %+v after waiving", result.Held)
		}
	})
}

// A docket corrected before the run is billed as corrected.
func TestCorrectedBeforeTheRun(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		s.correct(s.docket(s.farm(), 120), 100)
		if p := s.preview(); len(p.Farms) != 1 || !strings.Contains(strings.Join(p.Farms[0].Warnings, " "), "was corrected") {
			s.Fatalf("the preview is %+v", p)
		}
		if result := s.run(); result.Issued[0].Totals.Gross.String() != "$110.00" {
			s.Errorf("billed %s", result.Issued[0].Totals.Gross)
		}
	})
}

// A docket corrected after it was billed, twice, waits until the invoice is
// credited; then the last correction is billed, once.
func TestCorrectedAfterTheRun(t *testing.T) {
	eachShop(t, func(s *shop) {
		s.price()
		docket := s.docket(s.farm(), 120)
		invoice := s.run().Issued[0]
		s.correct(s.correct(docket, 110), 100)
		p := s.preview()
		if len(p.Farms) != 0 || len(p.Held) != 1 || !strings.Contains(p.Held[0].Why, "billed on invoice 2026-0001") {
			s.Fatalf("before crediting: %+v", p)
		}
		_, err := s.biller.Credit(s.Context(), billing.Credit{Invoice: invoice.ID, Reason: "Miscounted"})
		s.must(err)
		result := s.run()
		if len(result.Held) != 0 || len(result.Issued) != 1 || result.Issued[0].Totals.Gross.String() != "$110.00" {
			s.Fatalf("after crediting: %+v", result)
		}
		if again := s.run(); len(again.Issued) != 0 || len(again.Held) != 0 {
			s.Errorf("again: %+v", again)
		}
	})
}

// An issued invoice keeps its prices when the list changes.
func TestIssuedInvoiceKeepsItsPrices(t *testing.T) {
	eachShop(t, func(s *shop) {
		list := s.price()
		s.docket(s.farm(), 120)
		s.run()
		before := s.issued()[0]
		list.Prices[0].Tiers[0].Rate = billing.Whole(9)
		s.must(s.biller.Store.SavePriceList(s.Context(), &list))
		s.run()
		if after := s.issued(); len(after) != 1 || after[0].Totals.Gross != before.Totals.Gross || after[0].Hash != before.Hash {
			s.Errorf("%s became %+v", before.Totals.Gross, after)
		}
	})
}
