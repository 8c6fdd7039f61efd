package office_test

import (
	"bytes"
	"fmt"
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/jobs"
	"drawbar/web/sitetest"
)

// signedFor has 120 ewes drenched and signed for today; 1.00 each and 10 %
// tax by the site's price list: 132.00.
func signedFor(t *testing.T, s *sitetest.Site) billing.Month {
	t.Helper()
	ctx := t.Context()
	b := booking.Booking{
		State: booking.Agreed, Created: time.Now(), Mobs: []booking.Mob{{Class: booking.Ewe, Head: 120, Services: []string{"drench"}}},
		Windows: []booking.Window{{From: s.Today, To: s.Today, Part: booking.AllDay}},
	}
	s.Must(s.Store.AddBooking(ctx, booking.NewBooking{Farm: &s.Farm, Yard: &s.Yard, Booking: &b}))
	v := booking.Visit{
		BookingID: b.ID, FarmID: s.Farm.ID, YardID: s.Yard.ID, RigID: s.Rig.ID, Day: s.Today, Part: 1, Parts: 1, Head: 120, State: booking.Fixed,
		Arrive: time.Now().Add(-3 * time.Hour), SetUp: time.Hour, Work: time.Hour, WorkLong: time.Hour, PackDown: time.Hour,
	}
	s.Must(s.Store.ApplyPlan(ctx, booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "planned"}))
	var events []jobs.Event
	for i, what := range []struct {
		kind jobs.Kind
		says jobs.Payload
	}{
		{jobs.Arrived, nil}, {jobs.Started, nil}, {jobs.Counted, jobs.Count{Mob: b.Mobs[0].ID, Services: []string{"drench"}, Head: 120}}, {jobs.Finished, nil}, {jobs.SignedFor, jobs.Signature{Name: "Greta", Seen: 120}},
	} {
		events = append(events, jobs.Event{ID: booking.NewID(), VisitID: v.ID, Device: "test", At: v.Arrive.Add(time.Duration(i) * time.Minute).Truncate(time.Millisecond), Kind: what.kind, What: what.says})
	}
	_, err := s.Jobs.Append(ctx, v.ID, s.People[booking.Operator].ID, jobs.NewBatch(events...))
	s.Must(err)
	_, err = s.Jobs.Sign(ctx, v.ID)
	s.Must(err)
	return billing.MonthOf(s.Today)
}

func TestMonthRunOnScreen(t *testing.T) {
	s := sitetest.New(t)
	month := signedFor(t, s)
	office := s.As(booking.Office)
	path := "/money/month/" + month.String()
	if a := office.Get(path); !a.Says("1 invoice, $132.00 with tax") || !a.Says("120 ewes at $1.00 each.") || !a.Says("This month is not over") {
		t.Fatalf("the preview says %s", strings.Join(strings.Fields(a.Page.Find("main").Text()), " "))
	}
	if a := office.Post(path + "/run"); a.Status != http.StatusSeeOther {
		t.Fatalf("running answers %d", a.Status)
	}
	office.Post(path + "/run")
	a := office.Get(path)
	if !a.Says("Nothing was left to bill; nothing changed.") || a.Page.Find(`a[href$="/pdf"]`).Length() != 1 {
		t.Error("the second run is not told, or made another invoice")
	}
}

// invoiced runs the month and gives the invoice's page.
func invoiced(t *testing.T, s *sitetest.Site) (path string) {
	t.Helper()
	result, err := s.Biller.Run(t.Context(), signedFor(t, s))
	s.Must(err)
	if len(result.Issued) != 1 {
		t.Fatalf("%d invoices", len(result.Issued))
	}
	return "/money/invoices/" + string(result.Issued[0].ID)
}

func TestInvoiceIsPaid(t *testing.T) {
	s := sitetest.New(t)
	path := invoiced(t, s)
	office := s.As(booking.Office)
	page := office.Get(path)
	if !page.Says("$132.00 open of $132.00") || page.Typed("amount") != "132.00" {
		t.Fatal("the invoice does not say what is open")
	}
	pdf := office.Get(path + "/pdf")
	if pdf.Status != 200 || !bytes.HasPrefix([]byte(pdf.Body), []byte("%PDF-")) {
		t.Errorf("the PDF answers %d", pdf.Status)
	}
	for field, bad := range map[string][2]string{
		"amount": {"lots", "Give a number such as 12.50"}, "day": {s.Today.AddDays(2).String(), "still to come"},
	} {
		refused(t, office, path, path+"/pay", field, bad[0], bad[1])
	}
	refused(t, office, path, path+"/pay", "amount", "500.00", "more than the $132.00 that is open")
	form := page.With(path+"/pay", "amount", "100.00")
	office.Post(path+"/pay", form...)
	office.Post(path+"/pay", form...) // sent twice, counted once
	if a := office.Get(path); !a.Says("$32.00 open of $132.00") {
		t.Error("a payment of 100.00 does not leave 32.00 open")
	}
	strike := office.Get(path).Page.Find(`form[action$="/strike"]`).AttrOr("action", "")
	office.Post(strike, "invoice", strings.TrimPrefix(path, "/money/invoices/"))
	if a := office.Get(path); !a.Says("$132.00 open of $132.00") || !a.Says("struck out") {
		t.Error("the payment is not struck out")
	}
}

func TestCreditNote(t *testing.T) {
	s := sitetest.New(t)
	path := invoiced(t, s)
	office := s.As(booking.Office)
	refused(t, office, path, path+"/credit", "reason", "", "Please fill this in.")
	if a := office.Post(path+"/credit", "reason", "Wrong mob"); a.Status != 422 || !a.Says("Choose the lines that are taken back.") {
		t.Errorf("a credit note without lines answers %d", a.Status)
	}
	if a := office.Post(path+"/credit", "reason", "Wrong mob", "lines", "7"); a.Status != 422 {
		t.Errorf("a line that is not there answers %d", a.Status)
	}
	if a := office.Post(path+"/credit", "reason", "Wrong mob", "lines", "1"); a.Status != http.StatusSeeOther {
		t.Fatalf("the credit note answers %d", a.Status)
	}
	if a := office.Get(path); !a.Says("$0.00 open of $132.00") || !a.Says("Wrong mob") {
		t.Error("the credited invoice still asks for money")
	}
}

func TestWhoOwesWhat(t *testing.T) {
	s := sitetest.New(t)
	invoiced(t, s)
	if a := s.As(booking.Owner).Get("/money"); !a.Says(s.Farm.Name) || !a.Says("$132.00") || !a.Says("not over yet") {
		t.Error("the open invoice is not listed")
	}
}

func TestPrices(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	page := office.Get("/money/prices")
	if page.Typed("price.0.service") != "condition" || page.Typed("price.0.tier.0.rate") != "1" {
		t.Fatalf("the first row is %q at %q", page.Typed("price.0.service"), page.Typed("price.0.tier.0.rate"))
	}
	for field, bad := range map[string][2]string{
		"minimum": {"12,345", "thousands or a decimal"}, "set_up": {"-5", "without a sign"}, "price.0.tier.0.rate": {"1.23456", "at most 4 decimal places"}, "price.0.tier.0.from": {"3", "The first price holds from head 1."},
		"tax.work.percent": {"150", "from 0 to 100"}, "days": {"900", "from 0 to 180"}, "valid_from": {"spring", "Give a day"}, "name": {"", "Please fill this in."},
	} {
		a := office.Post("/money/prices", page.With("/money/prices", field, bad[0], "do", "save")...)
		if a.Status != 422 || !strings.Contains(a.Error(field), bad[1]) || a.Typed(field) != bad[0] {
			t.Errorf("%s=%q answers %d with %q, want %q", field, bad[0], a.Status, a.Error(field), bad[1])
		}
	}
	saved(t, office, "/money/prices", "/money/prices", "price.0.tier.0.rate", "1.25", "price.0.tier.1.from", "101", "price.0.tier.1.rate", "0.9", "do", "save")
	if a := office.Get("/money/prices"); a.Typed("price.0.tier.1.rate") != "0.9" || a.Typed("price.0.tier.0.rate") != "1.25" {
		t.Errorf("stored %q and %q", a.Typed("price.0.tier.0.rate"), a.Typed("price.0.tier.1.rate"))
	}
	if a := office.Post("/money/prices", page.With("/money/prices", "do", "save")...); a.Status != http.StatusConflict {
		t.Errorf("a stale list answers %d", a.Status)
	}
	more := office.Post("/money/prices", page.With("/money/prices", "do", "add")...)
	if more.Status != 200 || more.Page.Find(`[name$=".service"]`).Length() <= page.Page.Find(`[name$=".service"]`).Length() {
		t.Error("no more rows were added")
	}
}

// A list keeps every step on its way through the form; gaps between rows and
// steps close, and half a step is asked for.
func TestStepsOfPrices(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	step := func(i int, from, rate string) []string {
		at := fmt.Sprintf("price.0.tier.%d.", i)
		return []string{at + "from", from, at + "rate", rate}
	}
	for i := range billing.MaxTiers - 1 { // a page shows one step to spare
		saved(t, office, "/money/prices", "/money/prices", append(step(i+1, strconv.Itoa(100*(i+1)), "0.5"), "do", "save")...)
	}
	saved(t, office, "/money/prices", "/money/prices", "do", "save")
	a := office.Get("/money/prices")
	if last := fmt.Sprintf("price.0.tier.%d.from", billing.MaxTiers-1); a.Typed(last) != "500" {
		t.Errorf("the last step begins at %q", a.Typed(last))
	}
	half := office.Post("/money/prices", a.With("/money/prices", append(step(2, "200", ""), "do", "save")...)...)
	if half.Status != http.StatusUnprocessableEntity || half.Error("price.0.tier.2.rate") == "" || half.Typed("price.0.tier.2.from") != "200" {
		t.Errorf("half a step answers %d %q", half.Status, half.Error("price.0.tier.2.rate"))
	}
	saved(t, office, "/money/prices", "/money/prices", append(step(2, "", ""), "do", "save")...)
	if a := office.Get("/money/prices"); a.Typed("price.0.tier.2.from") != "300" {
		t.Errorf("the gap is closed with %q", a.Typed("price.0.tier.2.from"))
	}
}
