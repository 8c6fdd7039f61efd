package demo_test

import (
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/billing/document"
	billstore "drawbar/billing/store"
	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/cmd/drawbar/demo"
	"drawbar/jobs"
	jobstore "drawbar/jobs/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/routing"

	"cloud.google.com/go/civil"
)

var demoDay = civil.Date{Year: 2027, Month: time.March, Day: 10}

// loaded is the demo as of an ordinary Wednesday.
func loaded(t *testing.T) demo.Parts {
	t.Helper()
	p := parts(t, dbtest.SQLite(t))
	if err := demo.Load(t.Context(), p); err != nil {
		t.Fatal(err)
	}
	return p
}

// parts of the program on a database, on that Wednesday.
func parts(t *testing.T, d *db.DB) demo.Parts {
	t.Helper()
	clock := demo.NewClock(time.Date(2027, time.March, 10, 15, 0, 0, 0, time.UTC))
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	p := demo.Parts{Store: store.New(d, clock.Now, nil), Jobs: jobstore.New(d, clock.Now), Clock: clock}
	p.Desk = &booking.Desk{Store: p.Store, Now: clock.Now, Site: "http://drawbar.test"}
	p.Planner = schedule.New(p.Store, routing.Estimator{}, model, clock.Now)
	p.Biller = billing.Biller{Store: billstore.New(d, clock.Now), Dockets: p.Jobs, Trade: p.Store, Roads: routing.Estimator{}, Render: document.Render, Now: clock.Now}
	return p
}

func want[T any](t *testing.T) func(T, error) T {
	return func(got T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
}

// The demo has what it says it has.
func TestDemoIsWhole(t *testing.T) {
	p, ctx := loaded(t), t.Context()
	farms, yards := want[[]booking.Farm](t)(p.Store.Farms(ctx)), want[[]booking.Yard](t)(p.Store.Yards(ctx, ""))
	rigs, people := want[[]booking.Rig](t)(p.Store.Rigs(ctx)), want[[]booking.Person](t)(p.Store.People(ctx))
	services := want[[]booking.Service](t)(p.Store.Services(ctx))
	if len(farms) != 25 || len(yards) != 30 || len(rigs) != 2 || len(people) != 3 || len(services) != 12 {
		t.Errorf("%d farms, %d yards, %d rigs, %d people, %d services", len(farms), len(yards), len(rigs), len(people), len(services))
	}
	open := want[[]booking.Booking](t)(p.Store.Bookings(ctx, booking.BookingQuery{States: []booking.State{booking.Agreed}}))
	week := want[*schedule.Week](t)(p.Planner.Week(ctx, demoDay, 28))
	if len(open) < 5 || len(week.Tray) < 5 {
		t.Errorf("%d agreed, %d without a day", len(open), len(week.Tray))
	}
	for _, w := range week.Tray {
		if w.Reason == "" {
			t.Errorf("%s has no day and no reason", w.Farm.Name)
		}
	}
}

// A season of dockets that add up, each billed once, and invoices whose lines
// add up to what they ask for.
func TestSeasonBehindAddsUp(t *testing.T) {
	p, ctx := loaded(t), t.Context()
	dockets := want[[]jobs.SignedDocket](t)(p.Jobs.SignedDockets(ctx, jobs.DocketQuery{}))
	if len(dockets) < 40 {
		t.Errorf("%d dockets", len(dockets))
	}
	for _, d := range dockets {
		if len(d.Doubts) > 0 {
			t.Errorf("the docket of %s: %v", d.Day, d.Doubts)
		}
	}
	accounts := want[[]billing.Account](t)(p.Biller.Store.Accounts(ctx, billing.AccountQuery{}))
	billed := map[booking.ID]bool{}
	for _, a := range accounts {
		whole := want[billing.Account](t)(p.Biller.Store.Account(ctx, a.Invoice.ID))
		net := int64(0)
		for _, l := range whole.Invoice.Lines {
			net += l.Net.Minor
		}
		if net != whole.Invoice.Totals.Net.Minor || net+whole.Invoice.Totals.Tax.Minor != whole.Invoice.Totals.Gross.Minor {
			t.Errorf("%s: lines add up to %d, it asks for %v", whole.Invoice.Number, net, whole.Invoice.Totals)
		}
		for _, id := range whole.Invoice.Dockets() {
			if billed[id] {
				t.Errorf("docket %s is billed twice", id)
			}
			billed[id] = true
		}
	}
	for _, d := range dockets {
		if before := billing.MonthOf(d.Day).Before(billing.MonthOf(demoDay)); before != billed[d.ID] {
			t.Errorf("the docket of %s is billed: %v", d.Day, billed[d.ID])
		}
	}
}

// Nothing is mixed into a business that is there already.
func TestDemoLeavesABusinessAlone(t *testing.T) {
	p := loaded(t)
	if err := demo.Load(t.Context(), p); !fault.Is(err, fault.Conflict) {
		t.Errorf("loading into a business gives %v", err)
	}
}
