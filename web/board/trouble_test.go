package board_test

import (
	"net/http"
	"path"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/web/sitetest"
)

// The day of a promised visit is rained off: the plan that follows says whom
// to ring, and accepting moves the visit.
func TestRainedOff(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	v := placed(s, b)
	s.Must(s.Desk.Fix(t.Context(), v.ID, v.Version))
	c := s.As(booking.Office)
	day := "/board/days/" + v.Day.String()
	a := c.Get(day)
	if !a.Says(s.Farm.Name) || !a.Says("Rained off") {
		t.Fatalf("the day's page answers %d", a.Status)
	}
	a = c.Post(day+"/rain", "rain_rigs", string(s.Rig.ID), "rain_reason", "rained off")
	if a.Status != http.StatusSeeOther {
		t.Fatalf("rain answers %d", a.Status)
	}
	plan := a.To
	s.Must(s.Planner.Work(t.Context(), booking.ID(path.Base(plan))))
	if a := c.Get(plan); !a.Says("Ring first, in this order") || !a.Says(s.Farm.Phone) || !a.Says("rained off") || !a.Says("Mending") {
		t.Errorf("the plan says %s", a.Page.Find("main").Text())
	}
	c.Post(plan + "/accept")
	if got := visitOf(s, b); got.Day == v.Day || got.State != booking.Fixed {
		t.Errorf("the visit is %s on %s", got.State, got.Day)
	}
	if a := c.Get(day); !a.Says("stays at home: rained off") {
		t.Error("the day does not say what was noted")
	}
	if a := c.Post(day+"/over", "rig", string(s.Rig.ID)); a.Status != http.StatusSeeOther {
		t.Errorf("letting it out again answers %d", a.Status)
	}
	if a := c.Get(day); a.Says("stays at home") {
		t.Error("the rig is let out but stays at home")
	}
}

// One of two calls in ill: the plan that follows gives the other the time, and
// accepting it keeps the promised day.
func TestSomebodyCannotCome(t *testing.T) {
	s := sitetest.New(t)
	second := sample.Person(booking.Operator)
	s.Must(s.Store.SavePerson(t.Context(), &second))
	s.Rig.Crew = append(s.Rig.Crew, second.ID)
	s.Must(s.Store.SaveRig(t.Context(), &s.Rig))
	b := asked(s)
	v := placed(s, b)
	s.Must(s.Desk.Fix(t.Context(), v.ID, v.Version))
	c := s.As(booking.Office)
	day := "/board/days/" + v.Day.String()
	a := c.Post(day+"/away", c.Get(day).With(day+"/away", "ill_who", string(second.ID))...)
	if a.Status != http.StatusSeeOther {
		t.Fatalf("somebody ill answers %d", a.Status)
	}
	plan := a.To
	s.Must(s.Planner.Work(t.Context(), booking.ID(path.Base(plan))))
	if a := c.Get(plan); !a.Says(second.Name + " is away") {
		t.Errorf("the plan says %s", a.Page.Find("main").Text())
	}
	c.Post(plan + "/accept")
	if got := visitOf(s, b); got.Day != v.Day || got.State != booking.Fixed || got.Work <= v.Work {
		t.Errorf("the visit is %s on %s and takes %s, before %s", got.State, got.Day, got.Work, v.Work)
	}
	if a := c.Get(day); !a.Says(second.Name + " is away: ill") {
		t.Errorf("the day does not say what was noted: %s", a.Page.Find("main").Text())
	}
}

func TestTroubleKeepsWhatWasTyped(t *testing.T) {
	s := sitetest.New(t)
	c := s.As(booking.Owner)
	day := "/board/days/" + s.Today.String()
	for path, entries := range map[string][]string{
		"/rain":     {"rain_reason", "hail"},
		"/workshop": {"shop_rigs", string(s.Rig.ID), "shop_until", "someday", "shop_reason", "hub"},
		"/away":     {"ill_who", string(s.People[booking.Owner].ID), "ill_to", "someday", "ill_reason", "flu"},
		"/late":     {"late_rigs", string(s.Rig.ID), "late_from", "25:00", "late_reason", "tyre"},
	} {
		a := c.Post(day+path, entries...)
		if a.Status != http.StatusUnprocessableEntity || a.Page.Find(".errors li").Length() == 0 {
			t.Errorf("%s answers %d", path, a.Status)
		}
		if typed := entries[len(entries)-2]; a.Typed(typed) != entries[len(entries)-1] {
			t.Errorf("%s forgets %s", path, typed)
		}
	}
	for _, day := range []string{"someday", "2026-02-30", "0001-01-01"} {
		if a := c.Get("/board/days/" + day); a.Status != http.StatusNotFound {
			t.Errorf("day %s answers %d", day, a.Status)
		}
	}
	if a := c.Post("/board/days/"+s.Today.AddDays(-1).String()+"/rain", "rain_rigs", string(s.Rig.ID), "rain_reason", "rain"); a.Status != 422 || !a.Says("This day is over") {
		t.Errorf("yesterday answers %d", a.Status)
	}
}

func TestRecount(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	v := placed(s, b)
	c := s.As(booking.Owner)
	page := "/board/visits/" + string(v.ID)
	if a := c.Post(page+"/recount", c.Get(page).With(page+"/recount", "head.0", "none")...); a.Status != 422 || !strings.Contains(a.Error("head.0"), "Give a whole number") {
		t.Errorf("no number answers %d", a.Status)
	}
	if a := c.Post(page+"/recount", c.Get(page).With(page+"/recount", "head.0", "50")...); a.Status != http.StatusSeeOther || !strings.HasPrefix(a.To, "/board/plans/") {
		t.Fatalf("half the mob answers %d to %s", a.Status, a.To)
	}
	if got := visitOf(s, b); got.Head != 50 || got.Work >= v.Work {
		t.Errorf("%d head take %s, %d took %s", got.Head, got.Work, v.Head, v.Work)
	}
}

func TestWhyHereInWords(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Owner)
	v := placed(s, b)
	page := "/board/visits/" + string(v.ID)
	if a := c.Get(page); !a.Says("Say what the next best place would cost") {
		t.Error("the visit cannot be asked why")
	}
	if a := c.Get(page + "/why"); a.Status != 200 || !a.Says("Here the visit adds") || !a.Says("The next best place is") {
		t.Errorf("why answers %d: %s", a.Status, a.Page.Find("main").Text())
	}
}
