package office_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/web/sitetest"
)

const scanTime = "/settings/times/scan/all"

// expected is the estimate of 240 ewes to scan, in minutes of work.
func expected(t *testing.T, s *sitetest.Site) float64 {
	t.Helper()
	e, err := s.Planner.Pace.Estimate(pace.Job{
		Mobs: []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 240, Services: []string{pace.Scan}}}, Crew: pace.Crew{People: 1},
	})
	s.Must(err)
	return e.Parts.Work.Minutes
}

func TestChangeABaseTime(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	list := office.Get("/settings/times")
	if !list.Says("Nothing is learned yet") || !list.Says("22.0 50 %") || !list.Says("White, Russel & Fowler 1984") || !list.Says("common practice") {
		t.Error("the list does not show what everybody starts with, and where it is from")
	}
	s.Must(s.Teacher.Teach(t.Context()))
	before := expected(t, s)
	a := office.Get(saved(t, office, scanTime, scanTime, "seconds", "44", "spread", "15", "origin", "own", "source", "timed by Ann").To)
	if !a.Says("44.0 15 %") || !a.Says("own timed by Ann") || !a.Says("changed here") || !a.Says("Version 1 of your own model") {
		t.Error("the list does not show the change")
	}
	all, err := s.Store.BaseTimes(t.Context())
	s.Must(err)
	if len(all) != 1 || all[0].Seconds != 44 || all[0].CV != 0.15 || all[0].Origin != pace.Own || all[0].Date != s.Today.String() || all[0].Covers() != "" {
		t.Errorf("stored %+v", all)
	}
	s.Must(s.Teacher.Teach(t.Context()))
	// 22 s more for each of 240 head are 88 min
	if after := expected(t, s); after-before < 85 || after-before > 91 {
		t.Errorf("the estimate goes from %.0f to %.0f min, want 88 more", before, after)
	}
	if a := s.As(booking.Owner).Get("/changes"); !a.Says("Scanning, all animals: 44 s a head, spread 15 %, own") {
		t.Error("the change is not in the record")
	}
}

func TestGoBackToTheStartingValue(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	saved(t, office, scanTime, scanTime, "seconds", "44")
	if a := office.Post(scanTime+"/drop", "version", "7"); a.Status != http.StatusConflict {
		t.Errorf("going back from a version nobody has seen answers %d", a.Status)
	}
	if a := office.Post(scanTime+"/drop", "version", "1"); a.Status != http.StatusSeeOther || !office.Get(a.To).Says("22.0 50 %") {
		t.Errorf("going back answers %d", a.Status)
	}
	if a := office.Post(scanTime+"/drop", "version", "1"); a.Status != http.StatusNotFound {
		t.Errorf("going back twice answers %d", a.Status)
	}
}

// Goat bucks get a line of their own, which starts from what covers them.
func TestSetAnimalsApart(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	path := "/settings/times/inject/buck"
	if a := office.Get("/settings/times"); a.Page.Find(`a[href="`+path+`"]`).Text() != "buck" {
		t.Error("bucks cannot be set apart")
	}
	if got := office.Get(path).Typed("seconds"); got != "10.5" { // as for goats
		t.Errorf("bucks start with %s s, want 10.5", got)
	}
	saved(t, office, path, path, "seconds", "20")
	all, err := s.Store.BaseTimes(t.Context())
	s.Must(err)
	if len(all) != 1 || all[0].Key() != "inject/buck" || all[0].Species != pace.Goat || all[0].Seconds != 20 {
		t.Errorf("stored %+v", all)
	}
}

func TestBaseTimeEntriesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	refused(t, office, scanTime, scanTime, "seconds", "0", "give more than 0 and at most 3600")
	refused(t, office, scanTime, scanTime, "seconds", "fast", "Give a number")
	refused(t, office, scanTime, scanTime, "seconds", "", "Please fill this in")
	refused(t, office, scanTime, scanTime, "spread", "-5", "A spread of -0.05 makes no sense")
	refused(t, office, scanTime, scanTime, "spread", "NaN", "Give a number")
	a := office.Post(scanTime, office.Get(scanTime).With(scanTime, "origin", "published", "source", "")...)
	if a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Error("source"), "Name the source") {
		t.Errorf("a published value without a source answers %d with %q", a.Status, a.Error("source"))
	}
	a = office.Post(scanTime, office.Get(scanTime).With(scanTime, "origin", "hearsay")...)
	if a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Error("origin"), "Say where the value is from") {
		t.Errorf("hearsay answers %d with %q", a.Status, a.Error("origin"))
	}
	for _, path := range []string{"/settings/times/shear/all", "/settings/times/scan/cow"} {
		if a := office.Get(path); a.Status != http.StatusNotFound {
			t.Errorf("%s answers %d", path, a.Status)
		}
	}
}

// Two people change the same base time, which neither had changed before: the
// second sees what the first has saved, and can save again.
func TestStaleBaseTimeIsMended(t *testing.T) {
	s := sitetest.New(t)
	office, owner := s.As(booking.Office), s.As(booking.Owner)
	stale := owner.Get(scanTime).With(scanTime, "seconds", "30")
	saved(t, office, scanTime, scanTime, "seconds", "26")
	a := owner.Post(scanTime, stale...)
	if a.Status != http.StatusConflict || a.Typed("seconds") != "30" || !strings.Contains(a.Error("seconds"), "On file now: “26”.") {
		t.Fatalf("a stale save answers %d, typed %q, with %q", a.Status, a.Typed("seconds"), a.Error("seconds"))
	}
	if a := owner.Post(scanTime, a.With(scanTime)...); a.Status != http.StatusSeeOther || !owner.Get(a.To).Says("30.0 50 %") {
		t.Errorf("saving again answers %d", a.Status)
	}
}
