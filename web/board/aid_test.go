package board_test

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/schedule"
	"drawbar/web/sitetest"

	"github.com/PuerkitoBio/goquery"
)

// The tray, the booking and the visit say how long in the same words.
func TestHowLong(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Office)
	e, err := s.Planner.Estimate(t.Context(), b.Mobs, s.Yard, s.Farm.Hygiene)
	s.Must(err)
	says := func(path, within string) {
		t.Helper()
		text := strings.Join(strings.Fields(c.Get(path).Page.Find(within).Text()), " ")
		for _, words := range append(e.Drivers, e.Total.Words(), "Set-up", "Work", "on average together") {
			if !strings.Contains(text, words) {
				t.Errorf("%s does not say %q: %s", path, words, text)
			}
		}
	}
	says(weekPath(b), "[aria-labelledby=tray]")
	says("/bookings/"+string(b.ID), "main")
	v := placed(s, b)
	says("/board/visits/"+string(v.ID), "main")
}

func TestHowLongCannotBeSaid(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	s.Rig.Active = false
	s.Must(s.Store.SaveRig(t.Context(), &s.Rig))
	c := s.As(booking.Office)
	if a := c.Get("/bookings/" + string(b.ID)); !a.Says("No rig is in use yet, so we cannot say how long this takes.") {
		t.Error("the booking does not say why its length is not known")
	}
	if a := c.Get(weekPath(b)); a.Status != 200 || !a.Says(s.Farm.Name) || a.Page.Find("aside svg.bars").Length() != 0 {
		t.Errorf("the tray answers %d", a.Status)
	}
}

// mixed is a visit of 200 ewes of mixed sizes and 30 rams, at a yard where
// nobody pushes up.
func mixed(s *sitetest.Site) (booking.Visit, pace.Job) {
	s.T.Helper()
	s.Yard.Helper = false
	s.Must(s.Store.SaveYard(s.T.Context(), &s.Yard))
	b := asked(s)
	b.Mobs = []booking.Mob{
		{Class: booking.Ewe, Head: 200, MixedSizes: true, Services: []string{"drench", "foot-check"}}, {Class: booking.Ram, Head: 30, Services: []string{"drench", "weigh"}},
	}
	s.Must(s.Store.ChangeBooking(s.T.Context(), booking.BookingChange{Booking: &b, Verb: "changed"}))
	return placed(s, b), schedule.JobOf(b, s.Farm, s.Yard, s.Rig)
}

// lines are the rows of the table of ways.
func lines(page *goquery.Selection) (rows []string) {
	page.Find("table.aid tbody tr").Each(func(_ int, tr *goquery.Selection) {
		var cells []string
		tr.Children().Each(func(_ int, cell *goquery.Selection) { cells = append(cells, strings.TrimSpace(cell.Text())) })
		rows = append(rows, strings.Join(cells, " | "))
	})
	return rows
}

// A pusher, drafting by size and leaving a service out each save time: the
// page says what estimating the changed visit says.
func TestWhatWouldChangeAVisit(t *testing.T) {
	s := sitetest.New(t)
	v, job := mixed(s)
	rows := lines(s.As(booking.Office).Get("/board/visits/" + string(v.ID)).Page.Find("main"))
	all, err := s.Planner.WhatIf(job)
	s.Must(err)
	if len(rows) != len(all)+1 || len(rows) < 6 {
		t.Fatalf("%d lines for %d ways: %s", len(rows), len(all), strings.Join(rows, "\n"))
	}
	now, err := s.Planner.Try(job)
	s.Must(err)
	if want := fmt.Sprintf("As it is planned | %s |  | %.0f", now.Total.Words(), math.Round(now.HeadPerHour)); rows[0] != want {
		t.Errorf("as planned %q, want %q", rows[0], want)
	}
	for _, begins := range []string{"With somebody to push up | about ", "With the ewes drafted by size beforehand | ", "Without foot checking | ", "Without weighing | "} {
		i := slices.IndexFunc(rows, func(r string) bool { return strings.HasPrefix(r, begins) })
		if i < 0 || !strings.Contains(rows[i], " less | ") {
			t.Errorf("no saving in %q: %s", begins, strings.Join(rows, "\n"))
		}
	}
}

func TestTryingSeveralChanges(t *testing.T) {
	s := sitetest.New(t)
	v, job := mixed(s)
	c := s.As(booking.Office)
	path := "/board/visits/" + string(v.ID) + "/what-if"
	a := c.Get(path)
	if a.Status != 200 || a.Page.Find(`[name="mob.0.drafted"]`).Length() != 1 || a.Page.Find(`[name="mob.1.drafted"]`).Length() != 0 || a.Page.Find(`[name$=".services"][checked]`).Length() != 4 {
		t.Fatalf("the form answers %d", a.Status)
	}
	if rows := lines(a.Page.Find("main")); len(rows) != 2 || !strings.Contains(rows[1], "no difference") {
		t.Errorf("nothing changed: %q", rows)
	}
	job.Crew, job.Mobs[0].Services, job.Mobs[0].AsTheyCome = pace.Crew{People: 2, Pusher: true}, []string{"drench"}, false
	want, err := s.Planner.Try(job)
	s.Must(err)
	q := url.Values{"people": {"2"}, "pusher": {"on"}, "mob.0.drafted": {"on"}, "mob.0.services": {"drench"}, "mob.1.services": {"drench", "weigh"}}
	rows := lines(c.Get(path + "?" + q.Encode()).Page.Find("main"))
	if len(rows) != 2 || !strings.HasPrefix(rows[1], "With these changes | "+want.Total.Words()+" | ") || !strings.HasSuffix(rows[1], fmt.Sprintf(" less | %.0f", math.Round(want.HeadPerHour))) {
		t.Errorf("tried %q, want %s at %.0f an hour", rows, want.Total.Words(), want.HeadPerHour)
	}
}

func TestTryingNonsense(t *testing.T) {
	s := sitetest.New(t)
	v, _ := mixed(s)
	c := s.As(booking.Office)
	path := "/board/visits/" + string(v.ID) + "/what-if?"
	both := "&mob.0.services=drench&mob.1.services=drench"
	for query, field := range map[string]string{
		"people=0" + both: "people", "people=99999" + both: "people", "people=two" + both: "people", "people=" + both: "people",
		"people=2&mob.1.services=drench": "mob.0.services", "people=2&mob.0.services=juggle&mob.1.services=drench": "mob.0.services",
	} {
		if a := c.Get(path + query); a.Status != 422 || a.Error(field) == "" || a.Page.Find("table.aid").Length() != 0 {
			t.Errorf("%s answers %d with %q", query, a.Status, a.Error(field))
		}
	}
	if a := c.Get("/board/visits/" + string(booking.NewID()) + "/what-if"); a.Status != 404 {
		t.Errorf("a visit that is not there answers %d", a.Status)
	}
}
