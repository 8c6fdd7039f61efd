package billing

import (
	"context"
	"errors"
	"time"

	"drawbar/booking"
	"drawbar/jobs"
	"drawbar/routing"

	"cloud.google.com/go/civil"
)

// Biller bills signed dockets. All fields are needed.
type Biller struct {
	Store   Store
	Dockets Dockets
	Trade   Trade
	Roads   routing.Roads
	Render  Render
	Now     func() time.Time
}

// Dockets is what billing needs of jobs.Store.
type Dockets interface {
	SignedDocket(ctx context.Context, id booking.ID) (jobs.SignedDocket, error)
}

// Trade is what billing needs of booking.Store.
type Trade interface {
	Business(ctx context.Context) (booking.Business, error)
	Farms(ctx context.Context) ([]booking.Farm, error)
	Yards(ctx context.Context, farm booking.ID) ([]booking.Yard, error)
	Rigs(ctx context.Context) ([]booking.Rig, error)
	Services(ctx context.Context) ([]booking.Service, error)
	Visits(ctx context.Context, q booking.VisitQuery) ([]booking.Visit, error)
}

// Today is the business's calendar day.
func (b Biller) Today(business booking.Business) civil.Date {
	return business.Today(b.Now())
}

// Preview works out what a run of the month would do now: every standing
// signed docket until its last day that nobody has billed. It changes
// nothing.
func (b Biller) Preview(ctx context.Context, m Month) (Preview, error) {
	run, err := b.Store.MonthRun(ctx, m)
	if err != nil {
		return Preview{}, err
	}
	ids, err := b.Store.Unbilled(ctx, m.Last())
	if err != nil {
		return Preview{}, err
	}
	desk, err := b.desk(ctx, m, ids)
	if err != nil {
		return Preview{}, err
	}
	for _, w := range desk.work {
		if err := desk.take(ctx, w); err != nil {
			return Preview{}, err
		}
	}
	return desk.preview(run), nil
}

// passes bounds how often a run looks again after another run, or a waived
// docket, came in between.
const passes = 5

// Run bills the month: one transaction for each invoice, so that it may be
// stopped anywhere and run again. With nothing to bill and the run done it
// changes nothing at all. Two runs at once share the work.
func (b Biller) Run(ctx context.Context, m Month) (RunResult, error) {
	var result RunResult
	for range passes {
		p, err := b.Preview(ctx, m)
		result.Run, result.Held = p.Run, p.Held
		if err != nil || len(p.Farms) == 0 && p.Run.State == RunDone {
			return result, err
		}
		if result.Run, err = b.Store.BeginRun(ctx, m); err != nil {
			return result, err
		}
		rivals, err := b.issue(ctx, p.Farms, &result)
		if err != nil {
			return result, err
		}
		if !rivals {
			break
		}
	}
	var err error
	result.Run, err = b.Store.FinishRun(ctx, m)
	return result, err
}

// issue makes the invoices one by one; rivals tells whether somebody else
// billed any of the dockets first.
func (b Biller) issue(ctx context.Context, farms []FarmCharge, result *RunResult) (rivals bool, err error) {
	for _, f := range farms {
		issued, err := b.Store.Issue(ctx, f.Invoice, b.Render)
		switch {
		case errors.Is(err, ErrBilled):
			rivals = true
		case err != nil:
			return rivals, err
		default:
			result.Issued = append(result.Issued, issued)
		}
	}
	return rivals, nil
}

// Credit issues a credit note, dated today.
func (b Biller) Credit(ctx context.Context, c Credit) (Invoice, error) {
	business, err := b.Trade.Business(ctx)
	if err != nil {
		return Invoice{}, err
	}
	return b.Store.Credit(ctx, c, b.Today(business), b.Render)
}

// Pay records a payment.
func (b Biller) Pay(ctx context.Context, p Payment) error {
	business, err := b.Trade.Business(ctx)
	if err != nil {
		return err
	}
	return b.Store.Pay(ctx, p, b.Today(business))
}
