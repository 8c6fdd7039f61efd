package sitetest

import (
	"log/slog"
	"net/http/httptest"
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/billing/document"
	billstore "drawbar/billing/store"
	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/jobs/lesson"
	jobstore "drawbar/jobs/store"
	"drawbar/migrations/dbtest"
	"drawbar/routing"
	"drawbar/web"

	"cloud.google.com/go/civil"
)

// Site is the whole site with what stands behind it.
type Site struct {
	T        *testing.T
	Store    *store.Store
	Desk     *booking.Desk
	Planner  *schedule.Planner
	Teacher  *lesson.Teacher // asked by nobody but the test
	Jobs     *jobstore.Store
	Biller   billing.Biller
	Business booking.Business
	People   map[booking.Role]booking.Person
	Farm     booking.Farm
	Yard     booking.Yard
	Rig      booking.Rig
	Today    civil.Date
	Server   *httptest.Server
}

// Empty serves a site without a business.
func Empty(t *testing.T) *Site {
	t.Helper()
	d := dbtest.SQLite(t)
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	s := &Site{T: t, Store: store.New(d, time.Now, nil), Jobs: jobstore.New(d, time.Now), People: map[booking.Role]booking.Person{}}
	s.Desk = &booking.Desk{Store: s.Store, Now: time.Now, Site: "http://drawbar.test"}
	s.Planner = schedule.New(s.Store, routing.Estimator{}, model, time.Now)
	s.Planner.Desk = s.Desk
	s.Biller = billing.Biller{Store: billstore.New(d, time.Now), Dockets: s.Jobs, Trade: s.Store, Roads: routing.Estimator{}, Render: document.Render, Now: time.Now}
	s.Teacher = &lesson.Teacher{Trade: s.Store, Dockets: s.Jobs, Current: s.Planner.Pace, Now: time.Now}
	handler, err := web.New(web.Deps{
		DB: d, Store: s.Store, Desk: s.Desk, Planner: s.Planner, Jobs: s.Jobs, Biller: s.Biller, Now: time.Now, Log: slog.New(slog.DiscardHandler),
	})
	if err != nil {
		t.Fatal(err)
	}
	s.Server = httptest.NewServer(handler)
	t.Cleanup(s.Server.Close)
	for _, role := range booking.Roles {
		p := sample.Person(role)
		s.Must(s.Store.SavePerson(t.Context(), &p))
		s.People[role] = p
	}
	return s
}

// New serves a site with a business, a rig, a farm with a yard, the standard
// services and prices.
func New(t *testing.T) *Site {
	t.Helper()
	s := Empty(t)
	ctx := t.Context()
	s.Business = sample.Business()
	s.Must(s.Store.SaveBusiness(ctx, &s.Business))
	s.Today = s.Business.Today(time.Now())
	for _, service := range booking.StandardServices() {
		s.Must(s.Store.SaveService(ctx, &service))
	}
	s.Rig = sample.Rig()
	s.Rig.Crew = []booking.ID{s.People[booking.Operator].ID}
	s.Must(s.Store.SaveRig(ctx, &s.Rig))
	s.Farm = sample.Farm()
	s.Must(s.Store.SaveFarm(ctx, &s.Farm))
	s.Yard = sample.Yard(s.Farm)
	s.Must(s.Store.SaveYard(ctx, &s.Yard))
	s.prices()
	return s
}

// prices stores a list with a price of 1.00 for every service.
func (s *Site) prices() {
	currency := billing.Currency(s.Business.Currency)
	tax := billing.Tax{Category: billing.Standard, Percent: billing.Whole(10)}
	list := billing.PriceList{
		Name: "Prices", ValidFrom: s.Today.AddDays(-100), Currency: currency, Minimum: currency.Of(0), SetUp: currency.Of(0), WashDown: currency.Of(0),
		Travel: billing.Travel{Unit: billing.Kilometres}, Taxes: billing.Taxes{Work: tax, SetUp: tax, WashDown: tax, Travel: tax},
	}
	for _, service := range booking.StandardServices() {
		list.Prices = append(list.Prices, billing.Price{Service: service.Code, Tiers: []billing.Tier{{From: 1, Rate: billing.Whole(1)}}})
	}
	list.Sort()
	s.Must(s.Biller.Store.SavePriceList(s.T.Context(), &list))
}

// Must ends the test on an error.
func (s *Site) Must(err error) {
	s.T.Helper()
	if err != nil {
		s.T.Fatal(err)
	}
}
