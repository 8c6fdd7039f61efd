package store

import (
	"drawbar/billing"
	"drawbar/booking"
)

// documentRow is an issued document without its bytes; lists never load them.
type documentRow struct {
	ID            booking.ID `gorm:"primaryKey"`
	Kind          billing.DocumentKind
	Series        string
	Place         int
	Number        string
	Month         string
	FarmID        booking.ID
	Issued        string
	Due           string
	Currency      billing.Currency
	Seller        billing.Party `gorm:"serializer:json"`
	Buyer         billing.Party `gorm:"serializer:json"`
	Net           int64
	Tax           int64
	Gross         int64
	Taxes         []billing.TaxSum `gorm:"serializer:json"`
	TaxReason     string
	PayTo         string
	Credits       *booking.ID
	CreditsNumber string
	CreditsDate   string
	Reason        string
	Created       int64
	Hash          string
}

func (documentRow) TableName() string { return "invoices" }

// issuedRow is a document with its bytes, as it is stored once.
type issuedRow struct {
	Document documentRow `gorm:"embedded"`
	PDF      []byte      `gorm:"column:pdf"`
}

func (issuedRow) TableName() string { return "invoices" }

func (r documentRow) domain(lines []billing.Line) billing.Invoice {
	month, _ := billing.ParseMonth(r.Month) // documentRowOf wrote it
	c := r.Currency
	return billing.Invoice{
		ID: r.ID, Kind: r.Kind, Number: r.Number, Month: month, FarmID: r.FarmID, Date: dateOf(r.Issued), Due: dateOf(r.Due),
		Currency: c, Seller: r.Seller, Buyer: r.Buyer, Lines: lines,
		Totals:    billing.Totals{Net: c.Of(r.Net), Tax: c.Of(r.Tax), Gross: c.Of(r.Gross), Taxes: r.Taxes},
		TaxReason: r.TaxReason, PayTo: r.PayTo, Reason: r.Reason, Created: instant(r.Created), Hash: r.Hash,
		Credits: billing.Reference{ID: required(r.Credits), Number: r.CreditsNumber, Date: dateOf(r.CreditsDate)},
	}
}

func documentRowOf(i billing.Invoice) documentRow {
	return documentRow{
		ID: i.ID, Kind: i.Kind, Number: i.Number, Month: i.Month.String(), FarmID: i.FarmID, Issued: dateText(i.Date), Due: dateText(i.Due),
		Currency: i.Currency, Seller: i.Seller, Buyer: i.Buyer, Net: i.Totals.Net.Minor, Tax: i.Totals.Tax.Minor, Gross: i.Totals.Gross.Minor,
		Taxes: i.Totals.Taxes, TaxReason: i.TaxReason, PayTo: i.PayTo, Credits: optional(i.Credits.ID), CreditsNumber: i.Credits.Number,
		CreditsDate: dateText(i.Credits.Date), Reason: i.Reason, Created: millis(i.Created), Hash: i.Hash,
	}
}

type lineRow struct {
	InvoiceID   booking.ID `gorm:"primaryKey"`
	Place       int        `gorm:"primaryKey;autoIncrement:false"`
	Kind        billing.LineKind
	Wording     string
	Why         string
	Quantity    int64
	Unit        billing.Unit
	Rate        int64
	Net         int64
	TaxCategory billing.TaxCategory
	TaxPercent  int64
	DocketID    booking.ID
	Day         string
	Yard        string
	Credits     *booking.ID
	CreditsLine int
}

func (lineRow) TableName() string { return "invoice_lines" }

func (r lineRow) domain(c billing.Currency) billing.Line {
	return billing.Line{
		Kind: r.Kind, Text: r.Wording, Why: r.Why, Quantity: r.Quantity, Unit: r.Unit, Rate: billing.Rate(r.Rate), Net: c.Of(r.Net),
		Tax:      billing.Tax{Category: r.TaxCategory, Percent: billing.Rate(r.TaxPercent)},
		DocketID: r.DocketID, Day: dateOf(r.Day), Yard: r.Yard, Credits: r.CreditsLine,
	}
}

func lineRowsOf(i billing.Invoice) []lineRow {
	rows := make([]lineRow, len(i.Lines))
	for n, l := range i.Lines {
		rows[n] = lineRow{
			InvoiceID: i.ID, Place: n + 1, Kind: l.Kind, Wording: l.Text, Why: l.Why, Quantity: l.Quantity, Unit: l.Unit, Rate: int64(l.Rate),
			Net: l.Net.Minor, TaxCategory: l.Tax.Category, TaxPercent: int64(l.Tax.Percent), DocketID: l.DocketID,
			Day: dateText(l.Day), Yard: l.Yard, Credits: optional(i.Credits.ID), CreditsLine: l.Credits,
		}
	}
	return rows
}

type billedRow struct {
	DocketID  booking.ID `gorm:"primaryKey"`
	InvoiceID *booking.ID
	Waived    string
}

func (billedRow) TableName() string { return "billed_dockets" }

type paymentRow struct {
	ID        booking.ID `gorm:"primaryKey"`
	InvoiceID booking.ID
	Day       string
	Amount    int64
	How       string
	Recorded  int64
	Struck    int64
}

func (paymentRow) TableName() string { return "payments" }

func (r paymentRow) domain(c billing.Currency) billing.Payment {
	return billing.Payment{
		ID: r.ID, InvoiceID: r.InvoiceID, Day: dateOf(r.Day), Amount: c.Of(r.Amount), How: r.How,
		Recorded: instant(r.Recorded), Struck: instant(r.Struck),
	}
}
