package billing

import (
	"fmt"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Invoice is an issued document, or the draft of one while it has no number:
// an invoice, or a credit note that takes lines of an invoice back. Amounts
// of both are positive; the kind says which way the money goes.
type Invoice struct {
	ID        booking.ID
	Kind      DocumentKind
	Number    string // "2026-0001"; "" for a draft
	Month     Month  // of the run that billed it
	FarmID    booking.ID
	Date      civil.Date // of issue
	Due       civil.Date // to be paid by; zero on a credit note
	Currency  Currency
	Seller    Party
	Buyer     Party
	Lines     []Line
	Totals    Totals
	TaxReason string // why a line bears no tax
	PayTo     string
	Credits   Reference // on a credit note: what it takes back
	Reason    string    // on a credit note
	Created   time.Time
	Hash      string // SHA-256 of the PDF, hexadecimal
}

// DocumentKind tells invoices from credit notes.
type DocumentKind string

// The kinds of document.
const (
	AnInvoice   DocumentKind = "invoice"
	ACreditNote DocumentKind = "credit note"
)

// Reference names another document.
type Reference struct {
	ID     booking.ID
	Number string
	Date   civil.Date
}

// Party is the seller or the buyer, as they were on the day of issue.
type Party struct {
	Name, Contact, Address, Country, TaxID, Email, Phone string
}

// SellerOf is the business as the seller.
func SellerOf(b booking.Business) Party {
	return Party{Name: b.Name, Address: b.Address, Country: b.Country, TaxID: b.TaxID, Email: b.Email, Phone: b.Phone}
}

// BuyerOf is a farm as the buyer.
func BuyerOf(f booking.Farm) Party {
	return Party{Name: f.Name, Contact: f.Contact, Address: f.Address, TaxID: f.TaxID, Email: f.Email, Phone: f.Phone}
}

// Series is the run of numbers a document of this kind and date belongs to:
// one for each year and kind.
func (k DocumentKind) Series(date civil.Date) string {
	if k == ACreditNote {
		return fmt.Sprintf("C%04d", date.Year)
	}
	return fmt.Sprintf("%04d", date.Year)
}

// Numbered is the number at a place in a series, counted from 1.
func Numbered(series string, count int) string { return fmt.Sprintf("%s-%04d", series, count) }

// Dockets are the dockets a document's lines come from, each once.
func (i Invoice) Dockets() []booking.ID {
	var ids []booking.ID
	for _, l := range i.Lines {
		if l.DocketID != "" && !slices.Contains(ids, l.DocketID) {
			ids = append(ids, l.DocketID)
		}
	}
	return ids
}

// Reference to this document.
func (i Invoice) Reference() Reference { return Reference{ID: i.ID, Number: i.Number, Date: i.Date} }

// Draft is an invoice for lines priced by one list.
func Draft(m Month, farm booking.Farm, seller booking.Business, list PriceList, lines []Line, date civil.Date) Invoice {
	return Invoice{
		Kind: AnInvoice, Month: m, FarmID: farm.ID, Date: date, Due: date.AddDays(list.Terms.Days), Currency: list.Currency,
		Seller: SellerOf(seller), Buyer: BuyerOf(farm), Lines: lines, Totals: Sum(list.Currency, lines),
		TaxReason: list.TaxReason, PayTo: list.Terms.PayTo,
	}
}

// Credit asks for a credit note.
type Credit struct {
	Invoice booking.ID
	Lines   []int // numbers from 1; none for all that are left
	Reason  string
	Rebill  bool // dockets with no line left may be billed anew
}

// Draft is the credit note for an invoice of which some lines were taken back
// before. Its totals are what the rest of the invoice falls by, so that all
// credit notes of an invoice together never take back a cent more or less
// than it asked for.
func (c Credit) Draft(of Invoice, before []int, date civil.Date) (Invoice, error) {
	taken, err := c.lines(of, before)
	if err != nil {
		return Invoice{}, err
	}
	note := Invoice{
		Kind: ACreditNote, Month: of.Month, FarmID: of.FarmID, Date: date, Currency: of.Currency, Seller: of.Seller, Buyer: of.Buyer,
		TaxReason: of.TaxReason, Credits: of.Reference(), Reason: c.Reason,
	}
	var had, left []Line
	for i, l := range of.Lines {
		number := i + 1
		if slices.Contains(before, number) {
			continue
		}
		had = append(had, l)
		if !slices.Contains(taken, number) {
			left = append(left, l)
			continue
		}
		l.Credits = number
		note.Lines = append(note.Lines, l)
	}
	note.Totals = Sum(of.Currency, had).Less(Sum(of.Currency, left))
	return note, nil
}

// lines checks the request and names the lines it takes.
func (c Credit) lines(of Invoice, before []int) ([]int, error) {
	f := fault.Fields{}
	f.Text("reason", c.Reason, 300, fault.Required)
	if of.Kind != AnInvoice {
		f.Add("lines", "A credit note cannot be credited; make a new invoice instead.")
	}
	taken := c.Lines
	if len(taken) == 0 {
		for n := range of.Lines {
			if !slices.Contains(before, n+1) {
				taken = append(taken, n+1)
			}
		}
	}
	if len(taken) == 0 {
		f.Add("lines", "Every line of this invoice has been credited.")
	}
	for _, n := range taken {
		if n < 1 || n > len(of.Lines) || slices.Contains(before, n) {
			f.Add("lines", "Choose lines that are on the invoice and have not been credited.")
		}
	}
	return taken, f.Err()
}
