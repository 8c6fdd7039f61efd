package board_test

import (
	"net/http"
	"path"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/web/sitetest"

	"cloud.google.com/go/civil"
)

// planned asks for a plan of a booking's first week and has it worked; the
// path is the plan's.
func planned(s *sitetest.Site, c *sitetest.Client, b booking.Booking) string {
	s.T.Helper()
	a := c.Post(weekPath(b)+"/plan", "seconds", "10")
	if a.Status != http.StatusSeeOther {
		s.T.Fatalf("asking for a plan answers %d", a.Status)
	}
	s.Must(s.Planner.Work(s.T.Context(), booking.ID(path.Base(a.To))))
	return a.To
}

func TestWeekPlansAndAccepts(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Owner)
	week := weekPath(b)
	if a := c.Get(week); !a.Says("Nothing placed in this week yet.") || !a.Says("Not planned yet.") {
		t.Fatal("an empty week does not say so")
	}
	plan := planned(s, c, b)
	if a := c.Get(week); !a.Says("A plan for these days is ready to look at") {
		t.Error("the board does not tell of the plan")
	}
	a := c.Get(plan)
	if a.Status != 200 || !a.Says("Nothing is moved until you accept.") || !a.Says(s.Farm.Name) || !a.Says("Cost of the rounds") || !a.Says("Alone that day") {
		t.Fatalf("the plan answers %d: %s", a.Status, a.Page.Find("main").Text())
	}
	if len(visitsOf(s, b)) != 0 {
		t.Fatal("looking at a plan moved something")
	}
	if a := c.Post(plan + "/accept"); a.Status != http.StatusSeeOther || a.To != week {
		t.Fatalf("accepting answers %d to %s", a.Status, a.To)
	}
	if a = c.Get(week); !a.Says("1 placed.") || !a.Says("100 head · 1 visit") || a.Page.Find("svg.strip rect.work").Length() != 1 {
		t.Error("the placed visit is not on the board")
	}
	if sheets := c.Get(week + "/print"); !sheets.Says(s.Farm.Name) || !sheets.Says("Second gate on the left.") {
		t.Error("the run sheets lack the visit")
	}
	if a := c.Post(plan + "/accept"); a.Status != http.StatusConflict || !a.Says("nothing left to accept") {
		t.Errorf("accepting twice answers %d", a.Status)
	}
	planned(s, c, b)
	if a := c.Get(week); !a.Says("Planning these days anew would change nothing") {
		t.Error("the board does not say that a second plan is of no use")
	}
	sunday := b.Windows[0].From
	for sunday.In(time.UTC).Weekday() != time.Sunday {
		sunday = sunday.AddDays(1)
	}
	plannedFrom(s, sunday)
	if a := c.Get(week); a.Says("would change nothing") {
		t.Error("the board says so of a week of which one day was planned")
	}
}

// plannedFrom has seven days planned from one on, which need not be a Monday.
func plannedFrom(s *sitetest.Site, from civil.Date) {
	s.T.Helper()
	order, err := s.Planner.Ask(s.T.Context(), schedule.Order{From: from, Days: 7, Seconds: 10})
	s.Must(err)
	s.Must(s.Planner.Work(s.T.Context(), order.ID))
}

func visitsOf(s *sitetest.Site, b booking.Booking) []booking.Visit {
	s.T.Helper()
	visits, err := s.Store.Visits(s.T.Context(), booking.VisitQuery{BookingID: b.ID, States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	s.Must(err)
	return visits
}

// Without a script the page says how far the plan is, and loads itself again.
func TestPlanOnItsWay(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Office)
	plan := c.Post(weekPath(b) + "/plan").To
	a := c.Get(plan)
	if !a.Says("Waiting for somebody to begin") || !strings.Contains(a.Page.Find("head noscript").Text(), "refresh") {
		t.Error("a plan that waits does not say so")
	}
	if again := c.Post(weekPath(b) + "/plan"); again.To != plan {
		t.Errorf("asking twice leads to %s and %s", plan, again.To)
	}
	p, ok, err := s.Store.ClaimPlanning(t.Context(), booking.ID(path.Base(plan)))
	s.Must(err)
	if _, _, err := s.Store.NotePlanning(t.Context(), p.ID, p.Tries, booking.Progress{Placed: 3, Of: 4, Cost: 12345}); err != nil || !ok {
		t.Fatal(ok, err)
	}
	if a := c.Get(plan + "/progress"); !strings.Contains(a.Body, "3 of 4 visits placed") || !strings.Contains(a.Body, "123.45") || strings.Contains(a.Body, "<html") {
		t.Errorf("the progress says %s", a.Body)
	}
	if a := c.Post(plan + "/stop"); a.Status != http.StatusSeeOther {
		t.Errorf("stopping answers %d", a.Status)
	}
	if a := c.Get(plan); !a.Says("Stopping with the best so far") {
		t.Error("a plan that is to stop does not say so")
	}
	if a := c.Post(plan + "/accept"); a.Status != http.StatusConflict {
		t.Errorf("accepting what is not found answers %d", a.Status)
	}
}

func TestStoppedBeforeItBegan(t *testing.T) {
	s := sitetest.New(t)
	c := s.As(booking.Owner)
	plan := c.Post(weekPath(asked(s)) + "/plan").To
	c.Post(plan + "/stop")
	if a := c.Get(plan); !a.Says("There is no plan") || !a.Says("Stopped before anybody began") {
		t.Error("a plan that nobody began does not say so")
	}
}

// One of two bookings is accepted, then undone, then all is accepted.
func TestAcceptOneUndoAndAcceptAll(t *testing.T) {
	s := sitetest.New(t)
	one, two := asked(s), asked(s)
	c := s.As(booking.Owner)
	plan := planned(s, c, one)
	if a := c.Post(plan+"/accept", "booking", string(one.ID)); a.Status != http.StatusSeeOther || a.To != plan {
		t.Fatalf("accepting one answers %d", a.Status)
	}
	if len(visitsOf(s, one)) != 1 || len(visitsOf(s, two)) != 0 {
		t.Fatal("accepting one placed another")
	}
	a := c.Get(plan)
	if !a.Says("✓ accepted") || !a.Says("Accept the other 1") {
		t.Error("the plan does not say what was accepted")
	}
	if a := c.Post("/board/plans/undo", a.With("/board/plans/undo")...); a.Status != http.StatusSeeOther {
		t.Fatalf("undoing answers %d", a.Status)
	}
	if len(visitsOf(s, one)) != 0 {
		t.Error("undone, the visit is still there")
	}
	if a := c.Get("/board/plans"); !a.Says("1 placed, accepted by "+s.People[booking.Owner].Name) || !a.Says("undone") {
		t.Error("the list of plans does not tell what became of it")
	}
	if a := c.Post(plan + "/accept"); a.Status != http.StatusSeeOther {
		t.Fatalf("accepting all after undoing one answers %d", a.Status)
	}
	if len(visitsOf(s, one)) != 1 || len(visitsOf(s, two)) != 1 {
		t.Error("not everything is placed")
	}
}

// What changed is named, nothing is moved, and the page is still there.
func TestAcceptSaysWhatChanged(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Owner)
	plan := planned(s, c, b)
	s.Rig.SideTilt = !s.Rig.SideTilt
	s.Must(s.Store.SaveRig(t.Context(), &s.Rig))
	a := c.Post(plan + "/accept")
	if a.Status != http.StatusConflict || !a.Says(s.Rig.Name+" has changed.") || !a.Says("Plan again") || len(visitsOf(s, b)) != 0 {
		t.Errorf("accepting what is stale answers %d: %s", a.Status, a.Page.Find("main .errors").Text())
	}
}

func TestUndoIsRefusedWithTheReason(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Owner)
	plan := planned(s, c, b)
	c.Post(plan + "/accept")
	undo := c.Get(plan).With("/board/plans/undo")
	v := visitsOf(s, b)[0]
	s.Must(s.Desk.Fix(t.Context(), v.ID, v.Version))
	if a := c.Post("/board/plans/undo", undo...); a.Status != http.StatusConflict || !a.Says("was promised to the farmer since") {
		t.Errorf("undoing a promise answers %d: %s", a.Status, a.Page.Find("main .errors").Text())
	}
	if a := c.Post("/board/plans/undo", "acceptance", string(booking.NewID())); a.Status != http.StatusConflict {
		t.Errorf("undoing what never was answers %d", a.Status)
	}
	if a := c.Post("/board/plans/undo"); a.Status != http.StatusUnprocessableEntity {
		t.Errorf("undoing nothing answers %d", a.Status)
	}
}

// A visit moved by hand by two minutes is put back by the next plan: that is
// said apart, and can be accepted all the same.
func TestSlightMovesStandApart(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Owner)
	c.Post(planned(s, c, b) + "/accept")
	v := visitOf(s, b)
	local := v.Arrive.In(s.Business.Location())
	moved, err := s.Planner.Move(t.Context(), v.ID, v.Version, schedule.Place{Rig: v.RigID, Day: v.Day, Minute: local.Hour()*60 + local.Minute() + 2})
	s.Must(err)
	s.Must(s.Planner.Keep(t.Context(), moved))
	plan := planned(s, c, b)
	a := c.Get(plan)
	if got := a.Page.Find("main details[open] > summary").Text(); got != "1 booking shifts by 5 min at most" {
		t.Errorf("%q; the plan says %s", got, a.Page.Find("main").Text())
	}
	c.Post(plan+"/accept", "booking", string(b.ID))
	if now := visitOf(s, b); now.Arrive.Sub(v.Arrive).Abs() >= time.Minute {
		t.Errorf("it arrives at %s, at first %s", now.Arrive, v.Arrive)
	}
}
