package storetest

import (
	"slices"
	"sync"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/quagmt/udecimal"
)

var eventChecks = []check{
	{"events come back as they went in, in order of time", keepsEvents},
	{"an event is kept once however often it is sent", keepsOnce},
	{"sixteen senders of the same events count nothing twice", sixteenSenders},
	{"two phones on one visit add up", twoPhones},
	{"an id of another visit is refused and changes nothing", refusesStrangeID},
	{"one bad event does not hold up the others", refusesOneByOne},
	{"an unknown visit is not found", unknownVisit},
	{"the first arrival puts the visit under way, once", putsUnderWay},
	{"a note before arriving leaves the visit waiting", noteBeforeArriving},
	{"what is recorded on a called-off visit is kept", keepsOnCalledOff},
}

// keepsEvents sends one event of every kind that says something.
func keepsEvents(s *suite) {
	mob := s.booking.Mobs[0].ID
	counted := s.event(30, jobs.Counted, jobs.Count{Mob: mob, Services: []string{"drench"}, Gate: jobs.LeftGate, Head: -3})
	events := []jobs.Event{
		s.event(0, jobs.Arrived, nil), counted,
		s.event(31, jobs.AddedMob, jobs.NewMob{Mob: booking.NewID(), Class: booking.Ram}),
		s.event(32, jobs.Noted, jobs.Note{Text: "Gate sticks; “lift it”.\nÖl it."}),
		s.event(32, jobs.HandsTold, jobs.Hands{People: 3, Pusher: true}),
		s.event(33, jobs.Happened, jobs.Incident{Mob: mob, Head: 1, Text: "Jumped out."}),
		s.event(34, jobs.StruckOut, jobs.Strike{Event: counted.ID}),
		s.event(35, jobs.Treated, jobs.Treatment{
			Mob: mob, Head: 240, Product: "Example drench", Batch: "B-1", Expiry: civil.Date{Year: 2027, Month: 1, Day: 31},
			Dose: udecimal.MustParse("17.5"), Unit: "mL", Route: jobs.ByMouth, Given: sample.Day, MeatDays: 11,
		}),
		s.event(36, jobs.SignedFor, jobs.Signature{Name: "Tamsin Whitlock", Drawing: "M1,2 L3,4"}),
	}
	shuffled := slices.Clone(events)
	slices.Reverse(shuffled)
	s.send(shuffled...)
	got := found[[]jobs.Event](s)(s.Jobs.Events(s.ctx, s.visit.ID))
	for i := range got {
		if got[i].Received.IsZero() || got[i].Received.Location() != time.UTC {
			s.Errorf("received at %v", got[i].Received)
		}
		got[i].Received = time.Time{}
	}
	for i := range events {
		events[i].Person = s.ann.ID
	}
	s.same("events", got, events)
}

func keepsOnce(s *suite) {
	events := s.worked()[:5]
	s.same("new the first time", s.send(events...), 5)
	s.same("new the second time", s.send(events...), 0)
	s.same("new with one more", s.send(append(events, s.event(130, jobs.Counted, s.ewes(1)))...), 1)
	s.same("head", found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID)).Docket.Head(), 241)
}

func sixteenSenders(s *suite) {
	events := s.worked()[:3]
	for i := range 20 {
		events = append(events, s.event(30+i, jobs.Counted, s.ewes(1)))
	}
	var mu sync.Mutex
	accepted := map[booking.ID]int{}
	var senders sync.WaitGroup
	for i := range 16 {
		senders.Go(func() {
			mine := append(slices.Clone(events[i:]), events[:i]...) // each begins elsewhere
			for half := range slices.Chunk(mine, 12) {
				answers, err := s.Jobs.Append(s.ctx, s.visit.ID, s.ann.ID, jobs.NewBatch(half...))
				if err != nil {
					s.Errorf("sender %d: %v", i, err)
				}
				mu.Lock()
				for _, a := range answers {
					if a.Result == jobs.Accepted {
						accepted[a.ID]++
					}
				}
				mu.Unlock()
			}
		})
	}
	senders.Wait()
	for _, e := range events {
		if accepted[e.ID] != 1 {
			s.Errorf("an event was accepted %d times, want once", accepted[e.ID])
		}
	}
	s.same("head", found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID)).Docket.Head(), 20)
	s.same("states", s.states(), [2]string{"under way", "agreed"})
}

func twoPhones(s *suite) {
	var phones sync.WaitGroup
	for i := range 2 {
		var events []jobs.Event
		for j := range 10 {
			e := s.event(30+j, jobs.Counted, s.ewes(i+1))
			events = append(events, e)
		}
		phones.Go(func() {
			for _, e := range events {
				if _, err := s.Jobs.Append(s.ctx, s.visit.ID, s.ann.ID, jobs.NewBatch(e)); err != nil {
					s.Error(err)
				}
			}
		})
	}
	phones.Wait()
	s.same("head: ten ones and ten twos", found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID)).Docket.Head(), 30)
}

func refusesStrangeID(s *suite) {
	e := s.event(30, jobs.Counted, s.ewes(5))
	s.send(e)
	other := s.placed(sample.Morning.AddDate(0, 0, 1), booking.Fixed)
	e.VisitID = other.ID
	answers := found[[]jobs.Answer](s)(s.Jobs.Append(s.ctx, other.ID, s.ann.ID, jobs.NewBatch(e)))
	if answers[0].Result != jobs.Refused || answers[0].Why == "" {
		s.Errorf("answer %+v, want a refusal that says why", answers[0])
	}
	s.same("head here", found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID)).Docket.Head(), 5)
	s.same("events there", found[[]jobs.Event](s)(s.Jobs.Events(s.ctx, other.ID)), []jobs.Event{})
}

func refusesOneByOne(s *suite) {
	good := `{"id":"` + string(booking.NewID()) + `","device":"p","at":"2026-04-13T12:00:00Z","kind":"arrived"}`
	batch := found[jobs.Batch](s)(jobs.ParseBatch([]byte(`{"events":[{"id":"seven"},`+good+`]}`), s.visit.ID, s.clock.now()))
	answers := found[[]jobs.Answer](s)(s.Jobs.Append(s.ctx, s.visit.ID, s.ann.ID, batch))
	s.same("results", []jobs.Result{answers[0].Result, answers[1].Result}, []jobs.Result{jobs.Refused, jobs.Accepted})
}

func unknownVisit(s *suite) {
	nowhere := booking.NewID()
	_, err := s.Jobs.Append(s.ctx, nowhere, s.ann.ID, jobs.NewBatch())
	s.wants(fault.NotFound, err)
	_, err = s.Jobs.Events(s.ctx, nowhere)
	s.wants(fault.NotFound, err)
	_, err = s.Jobs.Docket(s.ctx, nowhere)
	s.wants(fault.NotFound, err)
	_, err = s.Jobs.Sign(s.ctx, nowhere)
	s.wants(fault.NotFound, err)
}

func putsUnderWay(s *suite) {
	s.send(s.event(0, jobs.Arrived, nil))
	s.same("states", s.states(), [2]string{"under way", "agreed"})
	before := found[booking.Visit](s)(s.Booking.Visit(s.ctx, s.visit.ID))
	s.send(s.event(1, jobs.Arrived, nil))
	s.same("version after a second arrival", found[booking.Visit](s)(s.Booking.Visit(s.ctx, s.visit.ID)).Version, before.Version)
	s.same("recorded", s.record(s.visit.ID), []string{"began"})
}

// record is what the record of changes has on a subject after its placing,
// oldest first.
func (s *suite) record(subject booking.ID) (verbs []string) {
	s.Helper()
	for _, c := range found[[]booking.Change](s)(s.Booking.Changes(s.ctx, booking.ChangeQuery{Subject: subject})) {
		if c.Verb != "placed" {
			verbs = append(verbs, c.Verb)
		}
	}
	slices.Reverse(verbs)
	return verbs
}

func noteBeforeArriving(s *suite) {
	s.send(s.event(-30, jobs.Noted, jobs.Note{Text: "Rang ahead."}))
	s.same("states", s.states(), [2]string{"fixed", "agreed"})
}

func keepsOnCalledOff(s *suite) {
	off := s.placed(sample.Morning.AddDate(0, 0, 1), booking.CalledOff)
	s.visit = off
	s.same("new", s.send(s.event(0, jobs.Arrived, nil), s.event(9, jobs.Counted, s.ewes(3))), 2)
	s.same("states", s.states(), [2]string{"called off", "agreed"})
}
