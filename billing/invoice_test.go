package billing_test

import (
	"encoding/json"
	"slices"
	"testing"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"pgregory.net/rapid"
)

var firstOfApril = civil.Date{Year: 2026, Month: 4, Day: 1}

func sampleInvoice(t testing.TB) billing.Invoice {
	farm := booking.Farm{ID: booking.NewID(), Name: "Hollow Oak Farm", Address: "Hill Road 9"}
	business := booking.Business{Name: "Alder Lane Sheep Work", Country: "IE"}
	list := priceList(t)
	lines := billing.Quote(list, work(drench(booking.Ewe, 240)), trip(56_000)).Lines
	i := billing.Draft(billing.Month{Year: 2026, Month: 3}, farm, business, list, lines, firstOfApril)
	i.ID, i.Number = booking.NewID(), "2026-0001"
	return i
}

// 180.95 net (worked out in TestQuoteOfAnOrdinaryVisit), 25 % is 45.24 (45.2375), due 30 days on.
func TestDraft(t *testing.T) {
	i := sampleInvoice(t)
	if i.Totals.Gross.String() != "$226.19" || i.Due.String() != "2026-05-01" || i.Buyer.Name != "Hollow Oak Farm" || len(i.Dockets()) != 1 {
		t.Errorf("got %s, due %s, to %s, %d dockets", i.Totals.Gross, i.Due, i.Buyer.Name, len(i.Dockets()))
	}
}

func TestSeriesAreByYearAndKind(t *testing.T) {
	if got := billing.Numbered(billing.AnInvoice.Series(firstOfApril), 7); got != "2026-0007" {
		t.Error(got)
	}
	if got := billing.Numbered(billing.ACreditNote.Series(firstOfApril), 12345); got != "C2026-12345" {
		t.Error(got)
	}
}

func TestCreditOfWhatIsWrong(t *testing.T) {
	i := sampleInvoice(t)
	note := i
	note.Kind = billing.ACreditNote
	for name, c := range map[string]struct {
		of     billing.Invoice
		credit billing.Credit
		before []int
		field  string
	}{
		"no reason":         {i, billing.Credit{}, nil, "reason"},
		"no such line":      {i, billing.Credit{Reason: "x", Lines: []int{9}}, nil, "lines"},
		"line zero":         {i, billing.Credit{Reason: "x", Lines: []int{0}}, nil, "lines"},
		"credited before":   {i, billing.Credit{Reason: "x", Lines: []int{2}}, []int{2}, "lines"},
		"all credited":      {i, billing.Credit{Reason: "x"}, []int{1, 2, 3, 4}, "lines"},
		"of a credit note":  {note, billing.Credit{Reason: "x"}, nil, "lines"},
		"reason unreadable": {i, billing.Credit{Reason: "\xff"}, nil, "reason"},
	} {
		_, err := c.credit.Draft(c.of, c.before, firstOfApril)
		if fault.FieldsOf(err)[c.field] == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// However an invoice is taken back line by line, the credit notes together
// take back exactly what it asked for: net, tax in each category, and gross.
func TestCreditsAddUpToTheInvoice(t *testing.T) {
	taxes := []billing.Tax{{Category: billing.Standard, Percent: billing.Whole(25)}, {Category: billing.Standard, Percent: billing.Whole(6)}, {Category: billing.ZeroRate}}
	rapid.Check(t, func(t *rapid.T) {
		i := billing.Invoice{Kind: billing.AnInvoice, Currency: usd}
		for range rapid.IntRange(1, 8).Draw(t, "lines") {
			i.Lines = append(i.Lines, billing.Line{Net: usd.Of(rapid.Int64Range(0, 300).Draw(t, "net")), Tax: rapid.SampledFrom(taxes).Draw(t, "tax")})
		}
		i.Totals = billing.Sum(usd, i.Lines)
		var before []int
		back := billing.Totals{Net: usd.Of(0), Tax: usd.Of(0), Gross: usd.Of(0)}
		dues := map[billing.Tax]int64{}
		for len(before) < len(i.Lines) {
			var left []int
			for n := range i.Lines {
				if !slices.Contains(before, n+1) {
					left = append(left, n+1)
				}
			}
			take := rapid.SliceOfNDistinct(rapid.SampledFrom(left), 1, len(left), rapid.ID).Draw(t, "take")
			note, err := billing.Credit{Lines: take, Reason: "x"}.Draft(i, before, firstOfApril)
			if err != nil {
				t.Fatal(err)
			}
			before = append(before, take...)
			back.Net, back.Tax, back.Gross = back.Net.Add(note.Totals.Net), back.Tax.Add(note.Totals.Tax), back.Gross.Add(note.Totals.Gross)
			for _, s := range note.Totals.Taxes {
				dues[s.Tax] += s.Due.Minor
			}
		}
		if back.Net != i.Totals.Net || back.Tax != i.Totals.Tax || back.Gross != i.Totals.Gross {
			t.Errorf("taken back %v, asked for %v", back, i.Totals)
		}
		for _, s := range i.Totals.Taxes {
			if dues[s.Tax] != s.Due.Minor {
				t.Errorf("%s: taken back %d, asked for %d", s.Words(), dues[s.Tax], s.Due.Minor)
			}
		}
	})
}

func TestMoneyInJSONReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := billing.Money{
			Minor:    rapid.Int64Range(-999_999_999, 999_999_999).Draw(t, "minor"),
			Currency: rapid.SampledFrom([]billing.Currency{"USD", "JPY", "KWD", "EUR"}).Draw(t, "currency"),
		}
		r := billing.Rate(rapid.Int64Range(0, 1e12).Draw(t, "rate"))
		text, err := json.Marshal([]any{m, r})
		if err != nil {
			t.Fatal(err)
		}
		var money billing.Money
		var rate billing.Rate
		if err := json.Unmarshal(text, &[]any{&money, &rate}); err != nil || money != m || rate != r {
			t.Errorf("%v %v is %s, reads %v %v (%v)", m, r, text, money, rate, err)
		}
	})
}
