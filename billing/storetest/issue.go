package storetest

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"sync"
	"testing"

	"drawbar/billing"
	"drawbar/booking"

	"cloud.google.com/go/civil"
	"github.com/google/go-cmp/cmp"
)

func issuedReadsBack(t *testing.T, b Bench) {
	docket := booking.NewID()
	issued := issue(t, b, b.Farms[0], docket)
	if issued.Number != "2026-0001" || issued.Totals.Gross != usd.Of(15950) {
		t.Errorf("issued %s over %s", issued.Number, issued.Totals.Gross)
	}
	account, err := b.Store.Account(t.Context(), issued.ID)
	issued.Created = account.Invoice.Created // kept to the millisecond
	if diff := cmp.Diff(billing.Account{Invoice: issued}, account); err != nil || diff != "" {
		t.Errorf("%v, want - got +:\n%s", err, diff)
	}
	_, pdf, err := b.Store.PDF(t.Context(), issued.ID)
	sum := sha256.Sum256([]byte("%PDF 2026-0001"))
	if err != nil || string(pdf) != "%PDF 2026-0001" || issued.Hash != hex.EncodeToString(sum[:]) {
		t.Errorf("%q with hash %s (%v)", pdf, issued.Hash, err)
	}
	billed, ok, err := b.Store.Billed(t.Context(), docket)
	if err != nil || !ok || billed.Invoice != issued.Reference() || billed.Credited {
		t.Errorf("billed: %+v, %v, %v", billed, ok, err)
	}
}

func docketBilledOnce(t *testing.T, b Bench) {
	first, second := booking.NewID(), booking.NewID()
	issue(t, b, b.Farms[0], first)
	_, err := b.Store.Issue(t.Context(), draft(b.Farms[0], second, first), render)
	if !errors.Is(err, billing.ErrBilled) {
		t.Fatalf("billed twice: %v", err)
	}
	if _, ok, _ := b.Store.Billed(t.Context(), second); ok {
		t.Error("the other docket of the refused invoice counts as billed")
	}
	if next := issue(t, b, b.Farms[0], second); next.Number != "2026-0002" {
		t.Errorf("the refused invoice left a gap: %s", next.Number)
	}
}

func noGapAfterFailure(t *testing.T, b Bench) {
	broken := errors.New("no ink")
	_, err := b.Store.Issue(t.Context(), draft(b.Farms[0], booking.NewID()), func(billing.Invoice) ([]byte, error) { return nil, broken })
	if !errors.Is(err, broken) {
		t.Errorf("got %v", err)
	}
	if next := issue(t, b, b.Farms[0], booking.NewID()); next.Number != "2026-0001" {
		t.Errorf("the failed invoice left a gap: %s", next.Number)
	}
}

func seriesByYearAndKind(t *testing.T, b Bench) {
	first := issue(t, b, b.Farms[0], booking.NewID())
	d := draft(b.Farms[0], booking.NewID())
	d.Date = civil.Date{Year: 2027, Month: 1, Day: 1}
	next, err := b.Store.Issue(t.Context(), d, render)
	if err != nil || next.Number != "2027-0001" {
		t.Errorf("the new year begins with %s (%v)", next.Number, err)
	}
	note, err := b.Store.Credit(t.Context(), billing.Credit{Invoice: first.ID, Reason: "Never done"}, april, render)
	if err != nil || note.Number != "C2026-0001" {
		t.Errorf("the first credit note is %s (%v)", note.Number, err)
	}
}

// Sixteen issuers bill the same 20 dockets: each is billed once, and the
// numbers have no gap.
func manyIssuersAtOnce(t *testing.T, b Bench) {
	dockets := make([]booking.ID, 20)
	for i := range dockets {
		dockets[i] = booking.NewID()
	}
	var mu sync.Mutex
	var numbers []string
	var done sync.WaitGroup
	for range 16 {
		done.Go(func() {
			for _, id := range dockets {
				issued, err := b.Store.Issue(t.Context(), draft(b.Farms[0], id), render)
				switch {
				case err == nil:
					mu.Lock()
					numbers = append(numbers, issued.Number)
					mu.Unlock()
				case !errors.Is(err, billing.ErrBilled):
					t.Error(err)
				}
			}
		})
	}
	done.Wait()
	slices.Sort(numbers)
	want := make([]string, len(dockets))
	for i := range want {
		want[i] = fmt.Sprintf("2026-%04d", i+1)
	}
	if !slices.Equal(numbers, want) {
		t.Errorf("numbers %v", numbers)
	}
}
