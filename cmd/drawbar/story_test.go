package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"math"
	"math/big"
	"net"
	"os/exec"
	"strings"
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/web/webtest"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
)

// TestStory is the whole of it, in a browser, on both engines: a farmer books
// 240 ewes for two services, the contractor plans the week, the operator
// counts 237 on a phone, the month is run, and the PDF asks for what is
// worked out here with fractions.
func TestStory(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		s := newStory(t, d)
		browser := webtest.Start(t)
		s.farmerBooks(browser.Page(webtest.Desktop))
		s.contractorPlans(browser.Page(webtest.Desktop))
		s.operatorCounts(browser.Page(webtest.Phone))
		s.booksAreRun(browser.Page(webtest.Desktop))
		s.invoiceIsRight()
	})
}

// story is one business on its own server.
type story struct {
	t        *testing.T
	app      *App
	owner    booking.Person
	operator booking.Person
	rig      booking.Rig
	day      civil.Date // tomorrow, in the business's zone
	visit    booking.Visit
	invoice  billing.Invoice
}

// home is a plausible rural point; the yard is 24.495 km due north of it, the
// middle of a class of the detour factors, where the factor is 1.24.
var home = orb.Point{-75.60, 38.90}

const (
	yardMetres  = 24495
	earthRadius = 6371008.8
)

func newStory(t *testing.T, d *db.DB) *story {
	ctx := context.Background()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	config := Config{Database: d.DSN(), URL: "http://" + listener.Addr().String(), Mail: t.TempDir(), MailFrom: "office@example.com"}
	app, err := Open(ctx, config, time.Now, slog.New(slog.NewTextHandler(io.Discard, nil)))
	if err != nil {
		t.Fatal(err)
	}
	s := &story{t: t, app: app}
	s.settle()
	s.serve(listener, (*App).ServeAndWork)
	return s
}

// serve runs the server until the test ends.
func (s *story) serve(listener net.Listener, serve func(*App, context.Context, net.Listener) error) {
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serve(s.app, ctx, listener) }()
	s.t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			s.t.Errorf("serving: %v", err)
		}
		if err := s.app.Close(); err != nil {
			s.t.Errorf("closing: %v", err)
		}
	})
}

func (s *story) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

// settle sets the business up: people, a rig, services, prices.
func (s *story) settle() {
	ctx, store := context.Background(), s.app.Store
	business := booking.Business{
		Name: "Alder Lane Sheep Work", Email: "office@example.com", Zone: "America/New_York", Country: "US", Currency: "USD", HomeName: "Home yard", Home: home,
	}
	s.must(store.SaveBusiness(ctx, &business))
	s.day = civil.DateOf(time.Now().In(business.Location())).AddDays(1)
	s.owner = booking.Person{Name: "Ann Alder", Email: "ann@example.com", Role: booking.Owner, Active: true}
	s.operator = booking.Person{Name: "Olaf Reed", Email: "olaf@example.com", Role: booking.Operator, Active: true}
	s.must(store.SavePerson(ctx, &s.owner))
	s.must(store.SavePerson(ctx, &s.operator))
	s.rig = booking.Rig{
		Name: "North", Mount: booking.OnTrailer, RacePlaces: 10, Mass: 1800, Length: 10, Width: 2.3, Height: 2.2, Crew: []booking.ID{s.operator.ID},
		Workdays: []time.Weekday{0, 1, 2, 3, 4, 5, 6}, DayStart: 6 * 60, DayEnd: 18 * 60, Active: true,
	}
	s.must(store.SaveRig(ctx, &s.rig))
	for i, name := range map[string]string{"drench": "Drench", "condition": "Condition score"} {
		s.must(store.SaveService(ctx, &booking.Service{Code: i, Name: name, Offered: true}))
	}
	prices := s.prices()
	s.must(s.app.Biller.Store.SavePriceList(ctx, &prices))
}

func (s *story) prices() billing.PriceList {
	usd := billing.Currency("USD")
	tax := billing.Tax{Category: billing.Standard, Percent: billing.Whole(5)}
	return billing.PriceList{
		Name: "Prices", ValidFrom: s.day.AddDays(-30), Currency: usd, Minimum: usd.Of(12000), SetUp: usd.Of(4500), WashDown: usd.Of(3000),
		Travel: billing.Travel{Unit: billing.Kilometres, Rate: 5500, Free: 20},
		Taxes:  billing.Taxes{Work: tax, SetUp: tax, WashDown: tax, Travel: tax},
		Prices: []billing.Price{
			{Service: "condition", Tiers: []billing.Tier{{From: 1, Rate: 6000}}},
			{Service: "drench", Tiers: []billing.Tier{{From: 1, Rate: 8500}, {From: 201, Rate: 7000}}},
		},
		Terms: billing.Terms{Days: 21},
	}
}

// farmerBooks fills in the public form, with a slip on the way.
func (s *story) farmerBooks(page *webtest.Page) {
	page.Go(s.app.Config.URL + "/")
	page.Axe()
	page.Follow("link", "Book a day")
	page.Axe()
	page.Fill("Farm", "Long Acre")
	page.Fill("Your name", "Greta Field")
	page.Fill("Mail address", "greta@example.com")
	page.Fill("What you call it", "Home pens")
	page.Fill("Latitude of the gate", fmt.Sprintf("%.7f", home.Lat()+yardMetres/earthRadius*180/math.Pi))
	page.Fill("Longitude", fmt.Sprint(home.Lon()))
	page.Check("Somebody pushes up", true)
	page.Fill("What they are", "ewes")
	page.Fill("How many head", "240")
	page.Check("Drench", true)
	page.Check("Condition score", true)
	page.Fill("From", s.day.String())
	page.WaitText("could be")
	page.WaitText("Expected")
	page.Expect("422")
	if status := page.Follow("button", "Send the booking"); status != 422 {
		s.t.Fatalf("a booking without a last day: status %d", status)
	}
	page.WaitText("Give the last day that suits.")
	if got := page.Value("How many head"); got != "240" {
		s.t.Fatalf("what was typed is gone: %q", got)
	}
	page.Axe()
	page.Fill("To", s.day.AddDays(6).String())
	page.Follow("button", "Send the booking")
	page.WaitText("Thank you, your booking is in")
	page.WaitText("240 ewes")
	page.Axe()
}

// signIn opens a link that was made for a person.
func (s *story) signIn(page *webtest.Page, p booking.Person) {
	link, err := s.app.Desk.SignInLink(context.Background(), p)
	s.must(err)
	page.Go(link)
	page.Axe()
	page.Follow("button", "Sign in as "+p.Name)
}

// contractorPlans plans the week of the first day that suits, and promises
// the day.
func (s *story) contractorPlans(page *webtest.Page) {
	s.signIn(page, s.owner)
	year, week := s.day.In(time.UTC).ISOWeek()
	page.Go(fmt.Sprintf("%s/week/%04d-W%02d", s.app.Config.URL, year, week))
	page.WaitText("Not planned yet")
	page.Axe()
	page.Follow("button", "Plan this week")
	page.WaitText("Nothing is moved until you accept.")
	page.WaitText("Long Acre")
	page.Axe()
	page.Follow("button", "Accept this plan")
	page.WaitText("1 placed")
	page.Axe()
	s.visit = s.oneVisit()
	page.Go(s.app.Config.URL + "/board/visits/" + string(s.visit.ID))
	page.Axe()
	page.Follow("button", "Fix this day and tell the farmer")
	page.WaitText("Fixed. The farmer was told by mail.")
	if v := s.oneVisit(); v.State != booking.Fixed || v.RigID != s.rig.ID {
		s.t.Fatalf("the visit is %s with %s", v.State, v.RigID)
	}
}

func (s *story) oneVisit() booking.Visit {
	visits, err := s.app.Store.Visits(context.Background(), booking.VisitQuery{})
	s.must(err)
	if len(visits) != 1 {
		s.t.Fatalf("%d visits", len(visits))
	}
	return visits[0]
}

// operatorCounts does the visit on a phone, and loses three ewes to the count.
func (s *story) operatorCounts(page *webtest.Page) {
	s.signIn(page, s.operator)
	page.Go(fmt.Sprintf("%s/today?day=%s", s.app.Config.URL, s.visit.Day))
	page.Axe()
	page.Follow("link", "Open visit")
	page.WaitText("all sent")
	page.Axe()
	for _, step := range []string{"We have arrived", "Set up and ready", "Start work"} {
		page.Click("button", step)
	}
	for range 23 {
		page.Click("button", "+ 10")
	}
	for range 7 {
		page.Click("button", "+ 1")
	}
	page.Wait(`document.getElementById("total").textContent === "237"`)
	page.Axe()
	page.Click("button", "Finish")
	page.WaitText("240 ewes booked, 237 worked: 3 not accounted for.")
	page.Axe()
	page.Click("button", "Sign the docket")
	page.WaitText("The docket is signed and kept.")
	page.WaitText("all sent")
	if v := s.oneVisit(); v.State != booking.SignedOff {
		s.t.Fatalf("the visit is %s after signing", v.State)
	}
}

// booksAreRun runs the month of the visit, twice.
func (s *story) booksAreRun(page *webtest.Page) {
	s.signIn(page, s.owner)
	month := billing.MonthOf(s.visit.Day)
	page.Go(s.app.Config.URL + "/money/month/" + month.String())
	page.WaitText("1 invoice")
	page.Axe()
	page.Follow("button", "Run "+month.Words())
	page.WaitText("Issued 1 invoice")
	page.Follow("button", "Run it again")
	page.WaitText("Nothing was left to bill; nothing changed.")
	page.Axe()
	accounts, err := s.app.Biller.Store.Accounts(context.Background(), billing.AccountQuery{})
	s.must(err)
	if len(accounts) != 1 {
		s.t.Fatalf("%d invoices after two runs", len(accounts))
	}
	s.invoice = accounts[0].Invoice
	page.Follow("link", s.invoice.Number)
	page.Axe()
}

// cents of a fraction of a unit of money, halves away from zero.
func cents(amount *big.Rat) int64 {
	twice := new(big.Rat).Add(new(big.Rat).Mul(amount, big.NewRat(200, 1)), big.NewRat(1, 1))
	return new(big.Int).Div(new(big.Int).Div(twice.Num(), twice.Denom()), big.NewInt(2)).Int64()
}

// expected is worked out from the price list on paper: 237 ewes drenched, 200
// at 0.85 and 37 at 0.70; 237 scored at 0.60; set-up 45, wash-down 30 because
// a new flock's health is not known; 24.495 km × 1.24 there and back is 61 km
// to the nearest, 20 of them free, at 0.55; 5 % tax on the sum.
func expected() (net, tax int64) {
	sum := new(big.Rat)
	for _, part := range [][2]int64{{200, 85}, {37, 70}, {237, 60}, {1, 4500}, {1, 3000}, {61 - 20, 55}} {
		sum.Add(sum, big.NewRat(part[0]*part[1], 100))
	}
	return cents(sum), cents(new(big.Rat).Mul(sum, big.NewRat(5, 100)))
}

// invoiceIsRight reads the PDF.
func (s *story) invoiceIsRight() {
	_, pdf, err := s.app.Biller.Store.PDF(context.Background(), s.invoice.ID)
	s.must(err)
	text := pdfText(s.t, pdf)
	net, tax := expected()
	for _, words := range []string{money(net), money(tax), "$" + money(net+tax), "Long Acre", "237 head", s.invoice.Number} {
		if !strings.Contains(text, words) {
			s.t.Errorf("the PDF does not say %q:\n%s", words, text)
		}
	}
}

func money(cents int64) string { return fmt.Sprintf("%d.%02d", cents/100, cents%100) }

// pdfText is what a PDF says, read by poppler.
func pdfText(t *testing.T, pdf []byte) string {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Fatal("pdftotext is missing. Install it: apt-get install poppler-utils")
	}
	read := exec.Command("pdftotext", "-layout", "-", "-")
	read.Stdin = bytes.NewReader(pdf)
	out, err := read.Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}
