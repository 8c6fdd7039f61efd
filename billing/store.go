package billing

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Store keeps everything of this package. Each method is one transaction.
// Something unknown is fault.NotFound; saving an old Version is
// fault.Conflict. Changes go into the record under the actor of the context.
type Store interface {
	// PriceLists are all lists, the latest ValidFrom first.
	PriceLists(ctx context.Context) ([]PriceList, error)
	PriceList(ctx context.Context, id booking.ID) (PriceList, error)
	// SavePriceList inserts for Version 0; two lists from one day are refused.
	SavePriceList(ctx context.Context, p *PriceList) error

	// Unbilled are the standing signed dockets until a day that nobody has
	// billed or waived, in order of day.
	Unbilled(ctx context.Context, until civil.Date) ([]booking.ID, error)
	// Billed is what became of a docket; ok is false where nothing has.
	Billed(ctx context.Context, docket booking.ID) (b Billed, ok bool, err error)
	// Waive notes that a docket will not be billed: ErrBilled if it has been.
	Waive(ctx context.Context, docket booking.ID, reason string) error

	// MonthRun is the run of a month; NotRun where there was none.
	MonthRun(ctx context.Context, m Month) (MonthRun, error)
	// MonthRuns are all, the latest month first.
	MonthRuns(ctx context.Context) ([]MonthRun, error)
	// BeginRun notes that a run is under way. A run under way stays as it is.
	BeginRun(ctx context.Context, m Month) (MonthRun, error)
	// FinishRun notes that a run is done.
	FinishRun(ctx context.Context, m Month) (MonthRun, error)

	// Issue numbers a draft, renders it and stores it for good, with the
	// dockets it bills: ErrBilled, and nothing stored, if any of them is
	// billed or waived already.
	Issue(ctx context.Context, draft Invoice, render Render) (Invoice, error)
	// Credit issues a credit note, see Credit.
	Credit(ctx context.Context, c Credit, date civil.Date, render Render) (Invoice, error)
	// Accounts picks invoices with what became of them, the latest number
	// first. Lines are left out.
	Accounts(ctx context.Context, q AccountQuery) ([]Account, error)
	// Account of an invoice; for a credit note, that of what it credits.
	Account(ctx context.Context, id booking.ID) (Account, error)
	// PDF is the document as issued, byte for byte; the hash is checked.
	PDF(ctx context.Context, id booking.ID) (Invoice, []byte, error)

	// Pay records a payment, once for its id.
	Pay(ctx context.Context, p Payment, today civil.Date) error
	// StrikePayment takes back a payment that was recorded by mistake.
	StrikePayment(ctx context.Context, id booking.ID) error
}

// Render makes the PDF of a document; the same document gives the same bytes.
type Render func(Invoice) ([]byte, error)

// AccountQuery picks invoices. Zero fields do not restrict.
type AccountQuery struct {
	FarmID booking.ID
	Month  Month
	Open   bool // only those with something open, either way
	Limit  int  // 0 means 1000
}

// ErrBilled is the answer to billing a docket a second time.
var ErrBilled = fault.New(fault.Conflict, "This docket has been billed or waived already. Nothing was changed.")
