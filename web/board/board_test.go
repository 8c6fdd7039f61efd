package board_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/web/sitetest"

	"cloud.google.com/go/civil"
)

// asked stores a booking of 100 ewes that suits from tomorrow on.
func asked(s *sitetest.Site) booking.Booking {
	s.T.Helper()
	b := booking.Booking{
		State: booking.Asked, Created: s.Biller.Now(), Mobs: []booking.Mob{{Class: booking.Ewe, Head: 100, Services: []string{"drench"}}},
		Windows: []booking.Window{{From: workday(s), To: workday(s).AddDays(20), Part: booking.AllDay}},
	}
	s.Must(s.Store.AddBooking(s.T.Context(), booking.NewBooking{Farm: &s.Farm, Yard: &s.Yard, Booking: &b}))
	return b
}

// workday is the first day from tomorrow on that the rig goes out.
func workday(s *sitetest.Site) civil.Date {
	day := s.Today.AddDays(1)
	for !s.Rig.Works(day) {
		day = day.AddDays(1)
	}
	return day
}

// placed puts a booking on its first day at nine.
func placed(s *sitetest.Site, b booking.Booking) booking.Visit {
	s.T.Helper()
	moved, err := s.Planner.PlaceBooking(s.T.Context(), b.ID, schedule.Place{Rig: s.Rig.ID, Day: b.Windows[0].From, Minute: 9 * 60})
	s.Must(err)
	s.Must(s.Planner.Keep(s.T.Context(), moved))
	return visitOf(s, b)
}

func visitOf(s *sitetest.Site, b booking.Booking) booking.Visit {
	s.T.Helper()
	visits, err := s.Store.Visits(s.T.Context(), booking.VisitQuery{BookingID: b.ID})
	s.Must(err)
	if len(visits) != 1 {
		s.T.Fatalf("%d visits", len(visits))
	}
	return visits[0]
}

// weekPath is the board of a booking's first day; ISO 8601 weeks as package
// time counts them.
func weekPath(b booking.Booking) string {
	year, week := b.Windows[0].From.In(time.UTC).ISOWeek()
	return fmt.Sprintf("/week/%04d-W%02d", year, week)
}

func TestWeeksThatAreNone(t *testing.T) {
	c := sitetest.New(t).As(booking.Owner)
	for _, week := range []string{"2026-W54", "2026-W00", "last", "2026-W1", "99999-W01", "2026-W48x", "%00"} {
		if a := c.Get("/week/" + week); a.Status != http.StatusNotFound {
			t.Errorf("week %s answers %d", week, a.Status)
		}
	}
	if a := c.Post("/week/2020-W10/plan"); a.Status != http.StatusUnprocessableEntity || !a.Says("These days are over") {
		t.Errorf("planning the past answers %d", a.Status)
	}
}

func TestMoveOfferFixUnfixCallOff(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	v := placed(s, b)
	c := s.As(booking.Office)
	path := "/board/visits/" + string(v.ID)
	act := func(what string, changes ...string) sitetest.Answer {
		return c.Post(path+"/"+what, c.Get(path).With(path+"/"+what, changes...)...)
	}
	if a := act("move", "arrive", "10:30"); a.Status != http.StatusSeeOther {
		t.Fatalf("moving answers %d: %s", a.Status, a.Page.Find("main").Text())
	}
	act("offer")
	if got, _ := s.Store.Booking(t.Context(), b.ID); got.State != booking.Offered {
		t.Errorf("offered, the booking is %s", got.State)
	}
	act("fix")
	if got := visitOf(s, b); got.State != booking.Fixed {
		t.Errorf("fixed, the visit is %s", got.State)
	}
	if a := c.Get(path); a.Page.Find(`form[action$="/move"]`).Length() != 0 {
		t.Error("a fixed visit can be moved")
	}
	act("unfix")
	if a := act("call-off", "reason", ""); a.Status != 422 || !strings.Contains(a.Error("reason"), "Please fill this in.") {
		t.Errorf("calling off without a reason answers %d", a.Status)
	}
	act("call-off", "reason", "Rain")
	if got, _ := s.Store.Booking(t.Context(), b.ID); got.State != booking.Asked || !strings.Contains(got.Attention, "Rain") {
		t.Errorf("called off, the booking is %s: %s", got.State, got.Attention)
	}
}

// A move that breaks a rule is shown first; it is done when that is confirmed.
func TestMoveAgainstARule(t *testing.T) {
	s := sitetest.New(t)
	v := placed(s, asked(s))
	c := s.As(booking.Owner)
	path := "/board/visits/" + string(v.ID)
	a := c.Post(path+"/move", c.Get(path).With(path+"/move", "arrive", "03:00")...)
	if a.Status != 200 || !a.Says("This breaks a rule") || a.Typed("arrive") != "03:00" {
		t.Fatalf("three in the morning answers %d, arrive %q", a.Status, a.Typed("arrive"))
	}
	if b := c.Post(path+"/move", a.With(path+"/move", "anyway", "on")...); b.Status != http.StatusSeeOther {
		t.Errorf("confirmed it answers %d", b.Status)
	}
}

func TestMovesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	first, second := placed(s, asked(s)), asked(s)
	c := s.As(booking.Owner)
	path := "/bookings/" + string(second.ID)
	for field, bad := range map[string][2]string{
		"day": {"someday", "Give a day"}, "arrive": {"25:99", "Give a time of day"}, "rig": {string(booking.NewID()), "Choose a rig"},
	} {
		a := c.Post(path+"/place", c.Get(path).With(path+"/place", field, bad[0])...)
		if a.Status != 422 || !strings.Contains(a.Error(field), bad[1]) {
			t.Errorf("%s=%s answers %d with %q", field, bad[0], a.Status, a.Error(field))
		}
	}
	a := c.Post(path+"/place", c.Get(path).With(path+"/place", "rig", string(s.Rig.ID), "day", first.Day.String(), "arrive", "09:15")...)
	if a.Status != 422 || !strings.Contains(a.Error("arrive"), "is at "+s.Farm.Name+" from 9:00") {
		t.Errorf("a time that is taken answers %d with %q", a.Status, a.Error("arrive"))
	}
	visit := "/board/visits/" + string(first.ID)
	old := c.Get(visit).With(visit + "/fix")
	c.Post(visit+"/fix", old...)
	if again := c.Post(visit+"/fix", old...); again.Status != http.StatusConflict || !again.Says("has changed since") {
		t.Errorf("fixing an old version answers %d", again.Status)
	}
}

func TestBookingsAndTheirHistory(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Office)
	if a := c.Get("/bookings?farm=" + strings.ToLower(s.Farm.Name[:5])); !a.Says(s.Farm.Name) {
		t.Error("the booking is not listed")
	}
	if a := c.Get("/bookings?state=done"); !a.Says("No bookings here.") {
		t.Error("done bookings are listed that are not done")
	}
	b.Attention = "Ring them."
	s.Must(s.Store.ChangeBooking(t.Context(), booking.BookingChange{Booking: &b, Verb: "changed", Detail: "by hand"}))
	path := "/bookings/" + string(b.ID)
	if a := c.Get(path); !a.Says("Ring them.") || !a.Says("changed it: by hand") {
		t.Error("the booking does not tell its history")
	}
	c.Post(path+"/dismiss", c.Get(path).With(path+"/dismiss")...)
	if a := c.Get(path); a.Page.Find("div.warn").Length() != 0 {
		t.Error("what was seen is still shown")
	}
	c.Post(path+"/withdraw", c.Get(path).With(path+"/withdraw")...)
	if got, _ := s.Store.Booking(t.Context(), b.ID); got.State != booking.Withdrawn {
		t.Errorf("withdrawn, the booking is %s", got.State)
	}
	if a := c.Get("/changes"); !a.Says(s.People[booking.Office].Name) || !a.Says("withdrew booking") {
		t.Error("the record does not say who withdrew it")
	}
}

func TestUnknownThings(t *testing.T) {
	c := sitetest.New(t).As(booking.Owner)
	id := string(booking.NewID())
	for _, path := range []string{"/board/visits/" + id, "/board/visits/x", "/bookings/" + id, "/bookings/x", "/bookings?state=lost"} {
		if a := c.Get(path); a.Status != http.StatusNotFound {
			t.Errorf("%s answers %d", path, a.Status)
		}
	}
	for _, path := range []string{"/board/visits/" + id + "/fix", "/board/visits/" + id + "/move", "/bookings/" + id + "/place", "/bookings/" + id + "/withdraw", "/bookings/" + id + "/dismiss"} {
		if a := c.Post(path, "version", "1"); a.Status != http.StatusNotFound {
			t.Errorf("%s answers %d", path, a.Status)
		}
	}
}

// How much a booking matters is kept, shown again and recorded.
func TestBookingPriority(t *testing.T) {
	s := sitetest.New(t)
	c := s.As(booking.Office)
	b := asked(s)
	path := "/bookings/" + string(b.ID)
	if a := c.Post(path+"/priority", c.Get(path).With(path+"/priority", "priority", "comes first")...); a.Status != http.StatusSeeOther {
		t.Fatalf("answers %d", a.Status)
	}
	got, err := s.Store.Booking(t.Context(), b.ID)
	s.Must(err)
	if got.Priority != booking.ComesFirst || !c.Get(path).Says("weighed it: comes first") {
		t.Errorf("kept %q", got.Priority)
	}
	if a := c.Post(path+"/priority", c.Get(path).With(path+"/priority", "priority", "shouted")...); a.Status != 422 {
		t.Errorf("a priority nobody offers answers %d", a.Status)
	}
}
