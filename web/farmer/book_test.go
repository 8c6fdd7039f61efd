package farmer_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

// filled is the whole booking form, with some entries changed.
func filled(s *sitetest.Site, changes ...string) []string {
	form := map[string]string{
		"farm.name": "Osier Farm", "farm.contact": "Ruth Osier", "farm.email": "ruth@example.com", "yard.name": "Home pens", "yard.lat": "38.95", "yard.lon": "-75.55",
		"yard.surface": "gravel", "mobs": "1", "mob.0.class": "ewe", "mob.0.head": "240", "mob.0.services": "drench", "windows": "1",
		"window.0.from": s.Today.AddDays(2).String(), "window.0.to": s.Today.AddDays(9).String(), "window.0.part": "all day", "do": "send",
	}
	for i := 0; i+1 < len(changes); i += 2 {
		form[changes[i]] = changes[i+1]
	}
	var pairs []string
	for name, value := range form {
		pairs = append(pairs, name, value)
	}
	return pairs
}

// booked sends the form and opens the booking's page.
func booked(t *testing.T, s *sitetest.Site, c *sitetest.Client, changes ...string) (path string, b booking.Booking) {
	t.Helper()
	a := c.Post("/book", filled(s, changes...)...)
	if a.Status != http.StatusSeeOther || !strings.HasPrefix(a.To, "/b/") {
		t.Fatalf("booking answers %d: %s", a.Status, strings.Join(strings.Fields(a.Page.Find("main").Text()), " "))
	}
	all, err := s.Store.Bookings(t.Context(), booking.BookingQuery{})
	s.Must(err)
	return a.To, all[len(all)-1]
}

func TestBooking(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	path, b := booked(t, s, c)
	if b.State != booking.Asked || b.Head() != 240 || b.Mobs[0].Services[0] != "drench" {
		t.Errorf("stored %+v", b)
	}
	a := c.Get(path)
	for _, words := range []string{"Thank you, your booking is in", "240 ewes", "We are looking for a day", "could be", "$264.00"} {
		if !a.Says(words) { // 240 at 1.00 and the tax of 10 %, from the site's price list
			t.Errorf("the booking does not say %q", words)
		}
	}
	if again := s.Anybody().Get(path); again.Status != http.StatusOK {
		t.Errorf("the link answers %d the second time", again.Status)
	}
}

func TestBadEntriesAreNamedAndKept(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	for _, bad := range []struct{ field, typed, says string }{
		{"farm.name", "", "Please fill this in."}, {"farm.email", "ruth", "Give one mail address"}, {"farm.name", strings.Repeat("x", 121), "Please keep this to 120"},
		{"yard.lat", "up", "Give a number"}, {"yard.lat", "", "Please fill this in."}, {"mob.0.class", "cow", "Choose what the animals are"},
		{"mob.0.head", "0", "from 1 to 20000"}, {"mob.0.head", "-3", "from 1 to 20000"}, {"mob.0.head", "many", "Give a whole number"}, {"mob.0.head", "", "from 1 to 20000"},
		{"mob.0.heaviest", "heavy", "Give a number"}, {"mob.0.heaviest", "900", "from 1 to 300 kg"}, {"mob.0.services", "juggle", "Choose each service once"}, {"window.0.from", "soon", "Give a day"}, {"window.0.to", "", "Give the last day"},
		{"window.0.to", "2001-01-01", "The last day is before the first"}, {"window.0.part", "midnight", "Choose all day"}, {"note", strings.Repeat("y", 2001), "Please keep this to 2000"},
		{"farm.contact", "\xff", "characters we cannot read"},
	} {
		a := c.Post("/book", filled(s, bad.field, bad.typed)...)
		if a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Error(bad.field), bad.says) {
			t.Errorf("%s=%.20q answers %d with %q, want %q", bad.field, bad.typed, a.Status, a.Error(bad.field), bad.says)
		}
		if a.Typed("farm.phone") == "" && a.Typed("yard.name") != "Home pens" {
			t.Errorf("%s: what was typed elsewhere is gone", bad.field)
		}
	}
	none, err := s.Store.Bookings(t.Context(), booking.BookingQuery{})
	s.Must(err)
	if len(none) != 0 {
		t.Errorf("%d bookings were stored", len(none))
	}
}

func TestRowsComeAndGo(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	a := c.Post("/book", filled(s, "do", "add-mob")...)
	if a.Status != http.StatusOK || a.Page.Find(`[name="mob.1.head"]`).Length() != 1 || a.Typed("mob.0.head") != "240" {
		t.Fatalf("adding a mob answers %d", a.Status)
	}
	a = c.Post("/book", filled(s, "mobs", "2", "mob.1.class", "ram", "mob.1.head", "7", "mob.1.services", "drench", "do", "drop-mob-0")...)
	if a.Typed("mob.0.head") != "7" || a.Typed("mob.0.class") != "ram" || a.Page.Find(`[name="mob.1.head"]`).Length() != 0 {
		t.Errorf("after taking the first mob out the first is %q %q", a.Typed("mob.0.head"), a.Typed("mob.0.class"))
	}
	a = c.Post("/book", filled(s, "do", "add-window")...)
	if a.Page.Find(`[name="window.1.from"]`).Length() != 1 {
		t.Error("no second span of days")
	}
	if a = c.Post("/book", filled(s, "mobs", "9999999999999999999", "do", "drop-mob-77")...); a.Status >= 500 {
		t.Errorf("nonsense answers %d", a.Status)
	}
}

func TestEstimateFollowsTheForm(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	text := func(changes ...string) string {
		a := c.Post("/book/estimate", filled(s, changes...)...)
		if a.Status != http.StatusOK {
			t.Fatalf("the estimate answers %d", a.Status)
		}
		return strings.Join(strings.Fields(a.Body), " ")
	}
	if got := text(); !strings.Contains(got, "could be") || !strings.Contains(got, "$264.00") {
		t.Errorf("240 ewes: %s", got)
	}
	if got := text(); !strings.Contains(got, "Set-up <b>") || !strings.Contains(got, "Drenching takes") {
		t.Errorf("neither the parts nor what drives them: %s", got)
	}
	if got := text("mob.0.head", ""); !strings.Contains(got, "Once a mob is filled in") {
		t.Errorf("no head: %s", got)
	}
	if got := text("mob.0.services", "scan", "mob.0.males_in", "2026-11-12", "mob.0.males_out", "2026-12-28"); !strings.Contains(got, "When to scan") {
		t.Errorf("scanning: %s", got)
	}
	if got := text("yard.lat", ""); !strings.Contains(got, "The drive to your yard comes on top") {
		t.Errorf("no position: %s", got)
	}
}

// Booking under an address that is on file tells the contractor, and nobody
// else.
func TestNobodyLearnsWhoIsOnFile(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	path, b := booked(t, s, c, "farm.email", s.Farm.Email)
	if !strings.Contains(b.Attention, s.Farm.Name) {
		t.Errorf("attention %q", b.Attention)
	}
	if c.Get(path).Says(s.Farm.Name) {
		t.Error("the page names the farm on file")
	}
	known, unknown := c.Post("/find", "email", s.Farm.Email), c.Post("/find", "email", "nobody@example.com")
	if strings.ReplaceAll(known.Body, s.Farm.Email, "nobody@example.com") != unknown.Body {
		t.Error("asking for a link tells whether the address is known")
	}
}

func TestFarmLink(t *testing.T) {
	s := sitetest.New(t)
	secret := booking.NewSecret()
	s.Must(s.Store.AddLink(t.Context(), booking.Link{Hash: secret.Hash(), Purpose: booking.ToFarm, Subject: s.Farm.ID, Expires: time.Now().Add(time.Hour), Once: true}))
	c := s.Anybody()
	if a := c.Get("/f/" + string(secret)); a.Status != 200 || !a.Says(s.Farm.Name) {
		t.Fatalf("the link answers %d", a.Status)
	}
	if a := c.Post("/f/" + string(secret)); a.To != "/book" {
		t.Fatalf("using the link leads to %q", a.To)
	}
	if a := c.Get("/book"); !a.Says(s.Farm.Name) || a.Page.Find(`[name="farm.name"]`).Length() != 0 {
		t.Error("the form does not know the farm")
	}
	if a := s.Anybody().Post("/f/" + string(secret)); a.Status != http.StatusGone {
		t.Errorf("the link answers %d the second time", a.Status)
	}
	if _, b := booked(t, s, c, "yard", string(s.Yard.ID)); b.FarmID != s.Farm.ID || b.YardID != s.Yard.ID {
		t.Errorf("booked for %s at %s", b.FarmID, b.YardID)
	}
	if a := c.Post("/book", filled(s, "yard", string(booking.NewID()))...); a.Status != http.StatusNotFound {
		t.Errorf("a yard that is not there answers %d", a.Status)
	}
}

func TestSendingTooOftenIsSlowed(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	last := 0
	for range 20 {
		last = c.Post("/find", "email", "nobody@example.com").Status
	}
	if last != http.StatusTooManyRequests {
		t.Errorf("the twentieth ask answers %d", last)
	}
}
