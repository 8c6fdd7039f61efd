package storetest

import (
	"sync"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var planningChecks = []check{
	{"a planning comes back as it went in", keepsPlannings},
	{"plannings are found by their days and state", findsPlannings},
	{"of several searchers one gets a planning", claimsOnce},
	{"a searcher tells how far it is and hears of a stop", notesProgress},
	{"what was found is kept, by the searcher that has it", endsPlannings},
	{"a planning left behind is begun again, at most three times", retakesPlannings},
	{"a plan rests on everything it saw", plansRestOnAll},
	{"a plan rests on the days it saw", plansRestOnDays},
	{"an acceptance keeps what it takes to undo it, once", acceptsAndUndoes},
}

func (s *suite) planning() booking.Planning {
	s.Helper()
	p := booking.Planning{From: sample.Day, Days: 7, Mend: true, Seed: 5, Seconds: 20, Iterations: 400}
	s.must(s.AddPlanning(s.ctx, &p))
	return p
}

func (s *suite) readPlanning(id booking.ID) booking.Planning {
	s.Helper()
	return found[booking.Planning](s)(s.Planning(s.ctx, id))
}

func (s *suite) claim(id booking.ID) (booking.Planning, bool) {
	s.Helper()
	p, ok, err := s.ClaimPlanning(s.ctx, id)
	s.must(err)
	return p, ok
}

func keepsPlannings(s *suite) {
	who := booking.Actor{Kind: booking.ByPerson, ID: booking.NewID(), Name: "Ann"}
	s.ctx = booking.As(s.ctx, who)
	p := s.planning()
	s.same("what came back", s.readPlanning(p.ID), p)
	s.same("who asked", p.By, who)
	s.same("state", p.State, booking.PlanWaiting)
	_, err := s.Planning(s.ctx, booking.NewID())
	s.wants(fault.NotFound, err)
}

func findsPlannings(s *suite) {
	early, late := booking.Planning{From: sample.Day, Days: 7}, booking.Planning{From: sample.Day.AddDays(7), Days: 7}
	s.must(s.AddPlanning(s.ctx, &early))
	s.must(s.AddPlanning(s.ctx, &late))
	s.must(s.StopPlanning(s.ctx, late.ID))
	for what, c := range map[string]struct {
		query booking.PlanningQuery
		want  []booking.ID
	}{
		"newest first":   {booking.PlanningQuery{}, []booking.ID{late.ID, early.ID}},
		"one":            {booking.PlanningQuery{Limit: 1}, []booking.ID{late.ID}},
		"last day":       {booking.PlanningQuery{From: sample.Day.AddDays(6), To: sample.Day.AddDays(6)}, []booking.ID{early.ID}},
		"both weeks":     {booking.PlanningQuery{From: sample.Day.AddDays(6), To: sample.Day.AddDays(7)}, []booking.ID{late.ID, early.ID}},
		"before":         {booking.PlanningQuery{To: sample.Day.AddDays(-1)}, nil},
		"waiting":        {booking.PlanningQuery{States: []booking.PlanningState{booking.PlanWaiting}}, []booking.ID{early.ID}},
		"waiting, later": {booking.PlanningQuery{From: sample.Day.AddDays(7), States: []booking.PlanningState{booking.PlanWaiting}}, nil},
	} {
		got := found[[]booking.Planning](s)(s.Plannings(s.ctx, c.query))
		s.same(what, idsOf(got, func(p booking.Planning) booking.ID { return p.ID }), c.want)
	}
}

func claimsOnce(s *suite) {
	p := s.planning()
	var all sync.WaitGroup
	taken := make(chan bool, 4)
	for range cap(taken) {
		all.Go(func() {
			_, ok, err := s.ClaimPlanning(s.ctx, p.ID)
			if err != nil {
				s.Error(err)
			}
			taken <- ok
		})
	}
	all.Wait()
	got := 0
	for range cap(taken) {
		if <-taken {
			got++
		}
	}
	now := s.readPlanning(p.ID)
	s.same("taken, state and tries", []any{got, now.State, now.Tries}, []any{1, booking.PlanSearching, 1})
	if !now.Beat.After(p.Beat) {
		s.Errorf("no sign of life: %s", now.Beat)
	}
}

func notesProgress(s *suite) {
	p := s.planning()
	at := booking.Progress{Iteration: 70, Placed: 4, Of: 6, Cost: 123_456}
	if _, mine, err := s.NotePlanning(s.ctx, p.ID, 1, at); err != nil || mine {
		s.Fatalf("a planning that nobody has: mine %v, %v", mine, err)
	}
	p, _ = s.claim(p.ID)
	stop, mine, err := s.NotePlanning(s.ctx, p.ID, p.Tries, at)
	s.must(err)
	s.same("stop and mine", []bool{stop, mine}, []bool{false, true})
	s.same("progress", s.readPlanning(p.ID).Progress, at)
	s.must(s.StopPlanning(s.ctx, p.ID))
	stop, mine, err = s.NotePlanning(s.ctx, p.ID, p.Tries, at)
	s.must(err)
	s.same("stop and mine, stopped", []bool{stop, mine}, []bool{true, true})
	_, mine, err = s.NotePlanning(s.ctx, p.ID, p.Tries+1, at)
	s.must(err)
	s.same("another try is mine", mine, false)
	s.wants(fault.NotFound, s.StopPlanning(s.ctx, booking.NewID()))
}

func endsPlannings(s *suite) {
	p, _ := s.claim(s.planning().ID)
	p.State, p.Fingerprint, p.Result = booking.PlanFound, "abc", []byte(`{"farm":"Hob’s"}`)
	p.Progress = booking.Progress{Iteration: 400, Placed: 6, Of: 6, Cost: 99}
	other := p
	other.Tries = 2
	s.must(s.EndPlanning(s.ctx, other)) // taken from that one meanwhile
	s.same("state after somebody else ended it", s.readPlanning(p.ID).State, booking.PlanSearching)
	s.must(s.EndPlanning(s.ctx, p))
	got := s.readPlanning(p.ID)
	if got.Ended.IsZero() {
		s.Error("nobody knows when it ended")
	}
	p.Ended, p.Beat = got.Ended, got.Beat
	s.same("what was found", got, p)
	s.must(s.StopPlanning(s.ctx, p.ID)) // too late, and no harm
	s.same("state after a late stop", s.readPlanning(p.ID), got)
	if _, ok := s.claim(p.ID); ok {
		s.Error("what is found was taken again")
	}
}

func retakesPlannings(s *suite) {
	p := s.planning()
	for try := 1; try <= booking.MostTries; try++ {
		taken, ok := s.claim(p.ID)
		s.same("taken and tries", []any{ok, taken.Tries}, []any{true, try})
		s.must(s.RetakePlannings(s.ctx, taken.Beat)) // it is alive
		s.same("state of one alive", s.readPlanning(p.ID).State, booking.PlanSearching)
		s.must(s.RetakePlannings(s.ctx, taken.Beat.Add(time.Second)))
	}
	got := s.readPlanning(p.ID)
	if got.State != booking.PlanFailed || got.Trouble == "" || got.Ended.IsZero() {
		s.Errorf("tried too often, it is %s: %q", got.State, got.Trouble)
	}
}

func plansRestOnAll(s *suite) {
	farm, yard := s.farm()
	b, rig := s.bookedAt(farm, yard), s.rig()
	person, business, service := sample.Person(booking.Operator), sample.Business(), sample.Services()[0]
	s.must(s.SavePerson(s.ctx, &person))
	s.must(s.SaveBusiness(s.ctx, &business))
	s.must(s.SaveService(s.ctx, &service))
	v := s.placed(b, rig, sample.Morning)
	saw := map[booking.ID]int{
		b.ID: b.Version, yard.ID: yard.Version, farm.ID: farm.Version, rig.ID: rig.Version, person.ID: person.Version,
		v.ID: v.Version, booking.ID(service.Code): service.Version, booking.BusinessID: business.Version,
	}
	apply := func() error { return s.ApplyPlan(s.ctx, booking.PlanChange{RestsOn: saw, Verb: "planned"}) }
	s.must(apply())
	for id := range saw {
		saw[id]++
		s.wants(fault.Conflict, apply())
		saw[id]--
	}
	rig.Name = "Renamed"
	s.must(s.SaveRig(s.ctx, &rig))
	err := apply()
	s.wants(fault.Conflict, err)
	s.same("what it says", fault.Sentence(err), "The rig Renamed has changed since this plan was made. Nothing was moved; plan again to take the change in.")
}

func plansRestOnDays(s *suite) {
	b, rig := s.booked(), s.rig()
	v := s.placed(b, rig, sample.Morning)
	late := booking.DayOff{RigID: rig.ID, Date: sample.Day, Reason: "Tyre", From: 10 * 60}
	s.must(s.SaveDayOff(s.ctx, late))
	seen := booking.SeenDays{From: sample.Day, To: sample.Day.AddDays(6), Off: []booking.DayOff{late}, Visits: []booking.ID{v.ID}}
	apply := func() error { return s.ApplyPlan(s.ctx, booking.PlanChange{Days: &seen, Verb: "planned"}) }
	s.must(apply())
	next := s.placed(b, rig, sample.Morning.AddDate(0, 0, 1))
	s.wants(fault.Conflict, apply())
	seen.Visits = []booking.ID{next.ID, v.ID}
	s.must(apply())
	s.placed(b, rig, sample.Morning.AddDate(0, 0, 7)) // outside the days
	s.must(apply())
	late.From = 11 * 60
	s.must(s.SaveDayOff(s.ctx, late))
	s.wants(fault.Conflict, apply())
}

func acceptsAndUndoes(s *suite) {
	p, b, rig := s.planning(), s.booked(), s.rig()
	moved, dropped := s.placed(b, rig, sample.Morning), s.placed(b, rig, sample.Morning.AddDate(0, 0, 1))
	before := []booking.Visit{moved, dropped}
	was := b
	fresh := sample.Visit(b, rig, sample.Morning.AddDate(0, 0, 2))
	moved.Arrive = moved.Arrive.Add(time.Hour)
	b.Attention = "Moved."
	accept := booking.Acceptance{Planning: p.ID, Says: "1 moved", Units: []booking.ID{b.ID}, Before: before, Was: []booking.Booking{was}}
	s.must(s.ApplyPlan(s.ctx, booking.PlanChange{
		Save: []*booking.Visit{&moved, &fresh}, Drop: []booking.Visit{dropped}, Bookings: []*booking.Booking{&b}, Accept: &accept, Verb: "planned",
	}))
	got := found[[]booking.Acceptance](s)(s.Acceptances(s.ctx, p.ID))[0]
	dropped.State, dropped.Version = booking.CalledOff, dropped.Version+1
	s.same("as they were", got.Before, before)
	s.same("as they were left", got.After, []booking.Visit{moved, fresh, dropped})
	s.same("bookings", []any{got.Was, got.Left}, []any{[]booking.Booking{was}, []booking.Booking{b}})
	s.same("words", []any{got.Planning, got.Says, got.Units, got.Undone.IsZero()}, []any{p.ID, "1 moved", []booking.ID{b.ID}, true})
	undo := func() error { return s.ApplyPlan(s.ctx, booking.PlanChange{Undo: got.ID, Verb: "undid"}) }
	s.must(undo())
	s.wants(fault.Conflict, undo())
	if again := found[[]booking.Acceptance](s)(s.Acceptances(s.ctx, ""))[0]; again.Undone.IsZero() {
		s.Error("undone, but nobody knows")
	}
}
