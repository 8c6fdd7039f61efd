package lesson_test

import (
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/jobs"
	"drawbar/jobs/lesson"
	jobstore "drawbar/jobs/store"
	"drawbar/migrations/dbtest"

	"cloud.google.com/go/civil"
)

// school is a teacher with a farm, a rig and a clock.
type school struct {
	*testing.T
	lesson.Teacher
	trade *store.Store
	now   time.Time
	farm  booking.Farm
	yard  booking.Yard
	rig   booking.Rig
	ann   booking.Person
	days  int
}

func newSchool(t *testing.T) *school {
	s := &school{T: t, now: sample.Morning, farm: sample.Farm(), rig: sample.Rig(), ann: sample.Person(booking.Operator)}
	d := dbtest.SQLite(t)
	clock := func() time.Time { return s.now }
	s.trade = store.New(d, clock, nil)
	s.Teacher = lesson.Teacher{Trade: s.trade, Dockets: jobstore.New(d, clock), Current: pace.NewCurrent(pace.DefaultModel()), Now: clock}
	ctx := t.Context()
	s.must(s.trade.SavePerson(ctx, &s.ann))
	s.must(s.trade.SaveRig(ctx, &s.rig))
	s.must(s.trade.SaveFarm(ctx, &s.farm))
	s.yard = sample.Yard(s.farm)
	s.must(s.trade.SaveYard(ctx, &s.yard))
	return s
}

func (s *school) must(err error) {
	s.Helper()
	if err != nil {
		s.Fatal(err)
	}
}

// signs works 240 ewes in so many minutes, on a day of its own.
func (s *school) signs(minutes int) jobs.SignedDocket {
	s.Helper()
	ctx := s.Context()
	s.days++
	arrive := sample.Morning.AddDate(0, 0, s.days)
	s.now = arrive.Add(12 * time.Hour)
	b := sample.Booking(s.farm, s.yard)
	b.Mobs[0].Services = []string{pace.Drench}
	s.must(s.trade.AddBooking(ctx, booking.NewBooking{Farm: &s.farm, Yard: &s.yard, Booking: &b}))
	v := sample.Visit(b, s.rig, arrive)
	s.must(s.trade.ApplyPlan(ctx, booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "placed"}))
	events := make([]jobs.Event, 0, 6)
	add := func(minute int, kind jobs.Kind, what jobs.Payload) {
		events = append(events, jobs.Event{
			ID: booking.NewID(), VisitID: v.ID, Device: "phone", Seq: len(events) + 1, At: arrive.Add(time.Duration(minute) * time.Minute), Kind: kind, What: what,
		})
	}
	add(0, jobs.Arrived, nil)
	add(30, jobs.SetUp, nil)
	add(30, jobs.Started, nil)
	add(31, jobs.Counted, jobs.Count{Mob: b.Mobs[0].ID, Services: b.Mobs[0].Services, Head: 240})
	add(30+minutes, jobs.Finished, nil)
	add(31+minutes, jobs.SignedFor, jobs.Signature{Name: "Tamsin", Drawing: "M1,2", Seen: 240})
	_, err := s.Dockets.Append(ctx, v.ID, s.ann.ID, jobs.NewBatch(events...))
	s.must(err)
	d, err := s.Dockets.Sign(ctx, v.ID)
	s.must(err)
	return d
}

// expects is the work expected of the next such visit.
func (s *school) expects() float64 { return s.expectsOf(len(s.rig.Crew)) }

func (s *school) expectsOf(people int) float64 {
	s.Helper()
	b := sample.Booking(s.farm, s.yard)
	b.Mobs[0].Services = []string{pace.Drench}
	e, err := s.Current.Estimate(schedule.Job(b.Mobs, s.yard, s.farm.Hygiene, s.rig, people))
	s.must(err)
	return e.Parts.Work.Minutes
}

// Five visits that each took half as long again are believed most of the way;
// a second process takes the lesson over without learning itself.
func TestTeachFromDockets(t *testing.T) {
	s := newSchool(t)
	before := s.expects()
	s.must(s.Teach(t.Context()))
	if s.Current.Version() != 1 || s.expects() < 0.99*before || s.expects() > 1.01*before {
		t.Errorf("without dockets version %d expects %.0f min, before %.0f", s.Current.Version(), s.expects(), before)
	}
	for range 5 {
		s.signs(int(1.5 * before))
	}
	s.must(s.Teach(t.Context()))
	after := s.expects()
	if after < 1.3*before || after > 1.6*before {
		t.Errorf("%.0f min expected after five visits of %.0f, before %.0f", after, 1.5*before, before)
	}
	other := s.Teacher
	other.Current = pace.NewCurrent(pace.DefaultModel())
	s.must(other.Refresh(t.Context()))
	if other.Current.Version() != 2 {
		t.Errorf("the other process is at version %d", other.Current.Version())
	}
	m, err := s.trade.PaceModel(t.Context())
	s.must(err)
	if m.Dockets != 5 || len(m.Looks) != 0 || !m.Made.Equal(s.now) {
		t.Errorf("%d dockets, looks %v, made %s", m.Dockets, m.Looks, m.Made)
	}
}

// Visits that take one of two as long as they should, while the other is away,
// teach nothing new of either.
func TestTeachKnowsWhoWasAway(t *testing.T) {
	s := newSchool(t)
	other := sample.Person(booking.Operator)
	day := civil.DateOf(sample.Morning)
	other.Away = []booking.Away{{From: day, To: day.AddDays(30)}}
	s.must(s.trade.SavePerson(t.Context(), &other))
	s.rig.Crew = []booking.ID{s.ann.ID, other.ID}
	s.must(s.trade.SaveRig(t.Context(), &s.rig))
	both, alone := s.expects(), s.expectsOf(1)
	if alone < 1.15*both {
		t.Fatalf("one takes %.0f min, two %.0f: not what this check is about", alone, both)
	}
	for range 5 {
		s.signs(int(alone))
	}
	s.must(s.Teach(t.Context()))
	if after := s.expects(); after < 0.95*both || after > 1.05*both {
		t.Errorf("%.0f min expected of two after visits of one, before %.0f", after, both)
	}
}

// Nothing is learned again while nothing has changed; a docket, packing down
// after half a day, a correction and a base time each change something.
func TestTeachOnlyWhenSomethingChanged(t *testing.T) {
	s := newSchool(t)
	ctx := t.Context()
	taught := func(what string, want int) {
		t.Helper()
		for range 2 {
			s.must(s.Teach(ctx))
		}
		if got := s.Current.Version(); got != want {
			t.Errorf("%s: version %d, want %d", what, got, want)
		}
	}
	taught("at the start", 1)
	d := s.signs(80)
	taught("signed", 2)
	s.now = s.now.Add(24 * time.Hour)
	taught("settled", 3)
	_, err := s.Dockets.Correct(ctx, jobs.Correction{Docket: d.ID, Reason: "miscounted", Heads: []jobs.Tally{{Mob: d.Mobs[0].ID, Service: pace.Drench, Head: 220}}})
	s.must(err)
	taught("corrected", 4)
	own := booking.BaseTime{Prior: pace.Prior{Code: pace.Drench, Seconds: 30, CV: 0.2, Origin: pace.Own, Date: "2026-03-09"}}
	s.must(s.trade.SaveBaseTime(ctx, &own))
	taught("own base time", 5)
}

// A clock left running overnight is flagged, and hardly moves the farm. Nothing
// is said of the others.
func TestWildDocketIsFlagged(t *testing.T) {
	s := newSchool(t)
	minutes := int(s.expects())
	for range 5 {
		s.signs(minutes)
	}
	s.must(s.Teach(t.Context()))
	calm := s.expects()
	wild := s.signs(8 * minutes)
	s.must(s.Teach(t.Context()))
	if moved := s.expects()/calm - 1; moved > 0.1 || moved < -0.1 {
		t.Errorf("one wild docket moves the farm by %.0f %%", 100*moved)
	}
	m, err := s.trade.PaceModel(t.Context())
	s.must(err)
	look := m.LookAt(wild.ID)
	if len(look) != 1 || len(m.Looks) != 1 || !strings.Contains(look[0], "Was the clock left running, or the count too low?") {
		t.Errorf("looks %v", m.Looks)
	}
}

// What cannot be used is named as well.
func TestUselessDocketIsFlagged(t *testing.T) {
	s := newSchool(t)
	d := s.signs(80)
	_, err := s.Dockets.Correct(t.Context(), jobs.Correction{Docket: d.ID, Reason: "another visit's", Heads: []jobs.Tally{{Mob: d.Mobs[0].ID, Service: pace.Drench, Head: 0}}})
	s.must(err)
	s.must(s.Teach(t.Context()))
	m, err := s.trade.PaceModel(t.Context())
	s.must(err)
	if m.Dockets != 0 || len(m.Looks) != 1 || m.Looks[0].Sentence != "Nothing is learned from its time. Give at least one mob." {
		t.Errorf("%d dockets, looks %v", m.Dockets, m.Looks)
	}
}
