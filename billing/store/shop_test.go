package store_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/billing/document"
	"drawbar/billing/store"
	"drawbar/booking"
	"drawbar/booking/sample"
	bookings "drawbar/booking/store"
	"drawbar/jobs"
	jobstore "drawbar/jobs/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/routing"

	"cloud.google.com/go/civil"
)

// may is the day the month run is made; the visits are in April.
func may() time.Time { return time.Date(2026, time.May, 4, 9, 0, 0, 0, time.UTC) }

var april = billing.MonthOf(sample.Day)

// shop is a business with signed dockets and a Biller over real stores.
type shop struct {
	*testing.T
	trade  *bookings.Store
	jobs   *jobstore.Store
	db     *db.DB
	biller billing.Biller
	rig    booking.Rig
	crew   booking.Person
	days   int
}

// eachShop runs a test on either engine.
func eachShop(t *testing.T, test func(s *shop)) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) { test(newShop(t, d)) })
}

func newShop(t *testing.T, d *db.DB) *shop {
	s := &shop{T: t, trade: bookings.New(d, may, nil), jobs: jobstore.New(d, may), db: d, rig: sample.Rig(), crew: sample.Person(booking.Operator)}
	s.biller = billing.Biller{
		Store: store.New(d, may), Dockets: s.jobs, Trade: s.trade, Roads: routing.Estimator{}, Render: document.Render, Now: may,
	}
	business := sample.Business()
	s.must(s.trade.SaveBusiness(t.Context(), &business))
	s.must(s.trade.SavePerson(t.Context(), &s.crew))
	s.must(s.trade.SaveRig(t.Context(), &s.rig))
	for _, service := range sample.Services() {
		s.must(s.trade.SaveService(t.Context(), &service))
	}
	return s
}

func (s *shop) must(err error) {
	s.Helper()
	if err != nil {
		s.Fatal(err)
	}
}

// price stores a list from the first of April: a drench at 1.00 for each
// head, 10 % tax, nothing else.
func (s *shop) price() billing.PriceList {
	s.Helper()
	usd := billing.Currency("USD")
	tax := billing.Tax{Category: billing.Standard, Percent: billing.Whole(10)}
	list := billing.PriceList{
		Name: "Spring", ValidFrom: april.First(), Currency: usd, Minimum: usd.Of(0), SetUp: usd.Of(0), WashDown: usd.Of(0),
		Prices: []billing.Price{{Service: "drench", Tiers: []billing.Tier{{From: 1, Rate: billing.Whole(1)}}}},
		Travel: billing.Travel{Unit: billing.Kilometres}, Taxes: billing.Taxes{Work: tax, SetUp: tax, WashDown: tax, Travel: tax},
	}
	s.must(s.biller.Store.SavePriceList(s.Context(), &list))
	return list
}

func (s *shop) farm() booking.Farm {
	s.Helper()
	f := sample.Farm()
	s.must(s.trade.SaveFarm(s.Context(), &f))
	return f
}

// docket is a signed docket of the farm: so many ewes drenched, on a day of
// April of its own.
func (s *shop) docket(farm booking.Farm, head int, services ...string) jobs.SignedDocket {
	s.Helper()
	if services == nil {
		services = []string{"drench"}
	}
	yard := sample.Yard(farm)
	b := sample.Booking(farm, yard, sample.Mob(max(head, 1)))
	b.Mobs[0].Services = services
	s.must(s.trade.AddBooking(s.Context(), booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b}))
	v := sample.Visit(b, s.rig, sample.Morning.AddDate(0, 0, s.days))
	v.Version, v.State = 0, booking.Fixed
	s.days++
	s.must(s.trade.ApplyPlan(s.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "planned"}))
	_, err := s.jobs.Append(s.Context(), v.ID, s.crew.ID, jobs.NewBatch(s.events(v, b.Mobs[0].ID, head, services)...))
	s.must(err)
	d, err := s.jobs.Sign(s.Context(), v.ID)
	s.must(err)
	return d
}

func (s *shop) events(v booking.Visit, mob booking.ID, head int, services []string) []jobs.Event {
	var events []jobs.Event
	add := func(kind jobs.Kind, what jobs.Payload) {
		at := v.Arrive.Add(time.Duration(len(events)) * time.Minute)
		events = append(events, jobs.Event{ID: booking.NewID(), VisitID: v.ID, Device: "test", Seq: len(events) + 1, At: at, Kind: kind, What: what})
	}
	add(jobs.Arrived, nil)
	add(jobs.Started, nil)
	if head > 0 {
		add(jobs.Counted, jobs.Count{Mob: mob, Services: services, Head: head})
	}
	add(jobs.Finished, nil)
	add(jobs.SignedFor, jobs.Signature{Name: "Tamsin Whitlock", Seen: head})
	return events
}

// correct sets the head drenched on a docket.
func (s *shop) correct(d jobs.SignedDocket, head int) jobs.SignedDocket {
	s.Helper()
	next, err := s.jobs.Correct(s.Context(), jobs.Correction{
		Docket: d.ID, Reason: "Miscounted.", Heads: []jobs.Tally{{Mob: d.Mobs[0].ID, Service: "drench", Head: head}},
	})
	s.must(err)
	return next
}

func (s *shop) run() billing.RunResult {
	s.Helper()
	result, err := s.biller.Run(s.Context(), april)
	s.must(err)
	return result
}

func (s *shop) preview() billing.Preview {
	s.Helper()
	p, err := s.biller.Preview(s.Context(), april)
	s.must(err)
	return p
}

// issued are all invoices in order of number, with their lines.
func (s *shop) issued() []billing.Invoice {
	s.Helper()
	accounts, err := s.biller.Store.Accounts(s.Context(), billing.AccountQuery{})
	s.must(err)
	all := make([]billing.Invoice, len(accounts))
	for i, a := range accounts {
		whole, err := s.biller.Store.Account(s.Context(), a.Invoice.ID)
		s.must(err)
		all[len(accounts)-1-i] = whole.Invoice
	}
	return all
}

// changes is how long the record is.
func (s *shop) changes() int {
	s.Helper()
	all, err := s.trade.Changes(s.Context(), booking.ChangeQuery{Limit: 500})
	s.must(err)
	return len(all)
}

var errNoInk = errors.New("no ink")

// breaking renders so many documents and then fails, as a program that is
// killed half-way would.
func breaking(after int) billing.Render {
	return func(i billing.Invoice) ([]byte, error) {
		if after--; after < 0 {
			return nil, errNoInk
		}
		return document.Render(i)
	}
}

// exec runs a statement past the store.
func (s *shop) exec(statement string) error {
	_, err := s.db.SQL().ExecContext(context.Background(), statement)
	return err
}

func day(n int) civil.Date { return sample.Day.AddDays(n) }
