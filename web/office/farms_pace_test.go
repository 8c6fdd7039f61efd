package office_test

import (
	"math"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
	"drawbar/web/sitetest"
)

// Six visits that each took half as long again as base values expect, and as
// many at other farms that took as long as expected: the page says so, with the
// number of visits.
func TestFarmShowsItsPace(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	path := "/farms/" + string(s.Farm.ID)
	if a := office.Get(path); !a.Says("No signed docket says yet how work here compares") {
		t.Error("a farm without dockets does not say that nothing is known")
	}
	job := pace.Job{Mobs: []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 200, Services: []string{pace.Drench}}}, Crew: pace.Crew{People: 1}}
	e, err := s.Planner.Pace.Estimate(job)
	s.Must(err)
	var dockets []learn.Docket
	for i := range 60 {
		d := learn.Docket{Job: job, Work: e.Parts.Work.Minutes * math.Exp(0.05*float64(i%3-1))}
		d.Job.FarmID = string(rune('a' + i%10))
		if i < 6 {
			d.Job.FarmID, d.Work = string(s.Farm.ID), 1.5*d.Work
		}
		dockets = append(dockets, d)
	}
	r, err := learn.Learn(pace.DefaultPriors(), dockets)
	s.Must(err)
	m, err := pace.NewModel(pace.DefaultPriors(), r.Learned)
	s.Must(err)
	s.Planner.Pace.Set(m, 1)
	known, ok := m.Farm(string(s.Farm.ID))
	if !ok || known.Visits != 6 || known.Factor < 1.35 || known.Factor > 1.6 {
		t.Fatalf("the model knows %+v of the farm, %v", known, ok)
	}
	a := office.Get(path)
	if !a.Says(known.Words()) || !a.Says("longer than elsewhere, from 6 visits.") || !a.Says(known.Doubt()) {
		t.Errorf("the page says %q", a.Page.Find("main").Text())
	}
}
