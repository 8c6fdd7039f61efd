package farmer_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/web/sitetest"
)

// placed puts the booking's visit on the first day that suits.
func placed(t *testing.T, s *sitetest.Site, b booking.Booking) booking.Visit {
	t.Helper()
	moved, err := s.Planner.PlaceBooking(t.Context(), b.ID, schedule.Place{Rig: s.Rig.ID, Day: b.Windows[0].From, Minute: 9 * 60})
	s.Must(err)
	s.Must(s.Planner.Keep(t.Context(), moved))
	visits, err := s.Store.Visits(t.Context(), booking.VisitQuery{BookingID: b.ID})
	s.Must(err)
	return visits[0]
}

func state(t *testing.T, s *sitetest.Site, id booking.ID) booking.State {
	t.Helper()
	b, err := s.Store.Booking(t.Context(), id)
	s.Must(err)
	return b.State
}

func TestYesAndNoToADay(t *testing.T) {
	for answer, want := range map[string]booking.State{"yes": booking.Agreed, "no": booking.Asked} {
		t.Run(answer, func(t *testing.T) {
			s := sitetest.New(t)
			c := s.Anybody()
			path, b := booked(t, s, c)
			v := placed(t, s, b)
			if c.Get(path).Says("Does this day suit?") {
				t.Error("a pencilled day is shown before it is offered")
			}
			s.Must(s.Desk.Offer(t.Context(), v.ID, v.Version))
			a := c.Get(path)
			if !a.Says("Does this day suit?") || !a.Says("about 9:00") {
				t.Fatal("the offered day is not shown")
			}
			c.Post(path+"/answer", a.With(path+"/answer", "answer", answer)...)
			if got := state(t, s, b.ID); got != want {
				t.Errorf("after %s the booking is %s, want %s", answer, got, want)
			}
			c.Post(path+"/answer", a.With(path+"/answer", "answer", answer)...)
			if after := c.Get(path); after.Status != 200 {
				t.Errorf("answering twice leaves %d", after.Status)
			}
		})
	}
}

func TestChanging(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	path, b := booked(t, s, c)
	form := c.Get(path + "/change")
	if form.Typed("mob.0.head") != "240" || form.Typed("window.0.from") != b.Windows[0].From.String() {
		t.Fatalf("the form holds %q head from %q", form.Typed("mob.0.head"), form.Typed("window.0.from"))
	}
	old := form.With(path+"/change", "mob.0.head", "250", "do", "send")
	if a := c.Post(path+"/change", form.With(path+"/change", "mob.0.head", "300", "do", "send")...); a.To != path {
		t.Fatalf("changing answers %d", a.Status)
	}
	if a := c.Get(path); !a.Says("300 ewes") {
		t.Error("the change is not shown")
	}
	if a := c.Post(path+"/change", old...); a.Status != http.StatusConflict || a.Typed("mob.0.head") != "250" {
		t.Errorf("a stale change answers %d with %q head", a.Status, a.Typed("mob.0.head"))
	}
	if a := c.Post(path+"/change", c.Get(path+"/change").With(path+"/change", "mob.0.head", "", "do", "send")...); a.Status != 422 {
		t.Errorf("a change without head answers %d", a.Status)
	}
}

func TestWithdrawing(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	path, b := booked(t, s, c)
	placed(t, s, b)
	a := c.Get(path + "/withdraw")
	c.Post(path+"/withdraw", a.With(path+"/withdraw")...)
	if got := state(t, s, b.ID); got != booking.Withdrawn {
		t.Fatalf("the booking is %s", got)
	}
	visits, err := s.Store.Visits(t.Context(), booking.VisitQuery{BookingID: b.ID, States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	s.Must(err)
	if len(visits) != 0 {
		t.Error("its visit still holds the rig")
	}
	if page := c.Get(path); !page.Says("Withdrawn") || page.Page.Find(`a[href$="/change"]`).Length() != 0 {
		t.Error("a withdrawn booking can still be changed")
	}
	if again := c.Post(path+"/withdraw", a.With(path+"/withdraw")...); again.Status != http.StatusSeeOther {
		t.Errorf("withdrawing twice answers %d", again.Status)
	}
}

func TestLinksThatOpenNothing(t *testing.T) {
	s := sitetest.New(t)
	c := s.Anybody()
	_, b := booked(t, s, c)
	expired, signIn := booking.NewSecret(), booking.NewSecret()
	s.Must(s.Store.AddLink(t.Context(), booking.Link{Hash: expired.Hash(), Purpose: booking.ToBooking, Subject: b.ID, Expires: time.Now().Add(-time.Hour)}))
	s.Must(s.Store.AddLink(t.Context(), booking.Link{Hash: signIn.Hash(), Purpose: booking.ToSignIn, Subject: s.People[booking.Owner].ID, Expires: time.Now().Add(time.Hour)}))
	for secret, want := range map[string]int{
		string(expired): http.StatusGone, string(signIn): http.StatusNotFound, string(booking.NewSecret()): http.StatusNotFound, string(b.ID): http.StatusNotFound, strings.Repeat("x", 3000): http.StatusNotFound, "%00": http.StatusNotFound,
	} {
		for _, tail := range []string{"", "/change", "/withdraw"} {
			if a := c.Get("/b/" + secret + tail); a.Status != want {
				t.Errorf("/b/%.12s%s answers %d, want %d", secret, tail, a.Status, want)
			}
		}
		if a := c.Post("/b/"+secret+"/withdraw", "version", "1"); a.Status != want {
			t.Errorf("withdrawing by %.12s answers %d, want %d", secret, a.Status, want)
		}
	}
}

func TestFrontPage(t *testing.T) {
	if a := sitetest.New(t).Anybody().Get("/"); a.Status != 200 || a.Page.Find(`a[href="/book"]`).Length() == 0 {
		t.Errorf("the front page answers %d", a.Status)
	}
	empty := sitetest.Empty(t)
	if a := empty.Anybody().Get("/"); !a.Says("Nearly there") {
		t.Error("without a business the front page does not say how to begin")
	}
	if a := empty.Anybody().Get("/book"); a.Status != 200 || !a.Says("Not open yet") {
		t.Errorf("without a business the booking form answers %d", a.Status)
	}
}
