package farmer_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/web/sitetest"
)

// chooser is a booking of a farm that was visited before, and its page.
func chooser(t *testing.T, s *sitetest.Site) (path string, b booking.Booking) {
	t.Helper()
	old := sample.Booking(s.Farm, s.Yard, sample.Mob(30))
	old.State = booking.Done
	s.Must(s.Store.AddBooking(t.Context(), booking.NewBooking{Farm: &s.Farm, Yard: &s.Yard, Booking: &old}))
	day := s.Today.AddDays(-20)
	v := booking.Visit{
		BookingID: old.ID, FarmID: s.Farm.ID, YardID: s.Yard.ID, RigID: s.Rig.ID, Day: day, Part: 1, Parts: 1, State: booking.SignedOff, Head: 30,
		Arrive: day.In(time.UTC).Add(14 * time.Hour), SetUp: 20 * time.Minute, Work: time.Hour, WorkLong: time.Hour, PackDown: 20 * time.Minute,
	}
	s.Must(s.Store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "signed off"}))
	ask := sample.Mob(60)
	ask.Services = []string{"drench"}
	b, secret, err := s.Desk.Ask(t.Context(), booking.Request{
		Farm: s.Farm, Yard: s.Yard, Mobs: []booking.Mob{ask},
		Windows: []booking.Window{{From: s.Today.AddDays(3), To: s.Today.AddDays(20), Part: booking.AllDay}},
	})
	s.Must(err)
	return "/b/" + string(secret), b
}

func TestFarmerChoosesADay(t *testing.T) {
	s := sitetest.New(t)
	path, b := chooser(t, s)
	c := s.Anybody()
	a := c.Get(path)
	forms := a.Page.Find("ul.slots form")
	if n := forms.Length(); n < 3 || n > 5 || !a.Says("Choose a day") {
		t.Fatalf("%d days to choose from: %s", n, a.Page.Find("main").Text())
	}
	first := sitetest.Entries(forms.First())
	for _, bad := range [][]string{sitetest.Entries(forms.First(), "day", "someday"), sitetest.Entries(forms.First(), "rig", "x"), sitetest.Entries(forms.First(), "arrive", ""), {"version", "1"}} {
		if a := c.Post(path+"/take", bad...); a.Status != http.StatusUnprocessableEntity || !a.Says("Choose one of the days") || state(t, s, b.ID) != booking.Asked {
			t.Errorf("%v answers %d", bad, a.Status)
		}
	}
	if a := c.Post(path+"/take", first...); a.Status != http.StatusSeeOther || state(t, s, b.ID) != booking.Agreed {
		t.Fatalf("taking a day answers %d and leaves the booking %s", a.Status, state(t, s, b.ID))
	}
	if after := c.Get(path); !after.Says("We are coming") || after.Page.Find("ul.slots").Length() > 0 {
		t.Errorf("afterwards it says %s", after.Page.Find("main").Text())
	}
	c.Post(path+"/take", first...)
	if again := c.Get(path); !again.Says("has changed since you looked at it") {
		t.Errorf("taking it again says %s", again.Page.Find("main").Text())
	}
}

// A second farmer, whose page still shows the day, is told and shown others.
func TestADayGoneMeanwhile(t *testing.T) {
	s := sitetest.New(t)
	path, b := chooser(t, s)
	c := s.Anybody()
	stale := sitetest.Entries(c.Get(path).Page.Find("ul.slots form").First(), "arrive", "03:33")
	if a := c.Post(path+"/take", stale...); a.Status != http.StatusSeeOther {
		t.Errorf("a time that is gone answers %d", a.Status)
	}
	a := c.Get(path)
	if state(t, s, b.ID) != booking.Asked || !a.Says("gone to somebody else") || a.Page.Find("ul.slots form").Length() == 0 {
		t.Errorf("it says %s", strings.Join(strings.Fields(a.Page.Find("main").Text()), " "))
	}
}
