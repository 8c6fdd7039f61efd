package storetest

import (
	"sync"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/jobs"
)

var signingChecks = []check{
	{"signing freezes what was counted, with the names of the day", freezes},
	{"nobody signs before the farmer has", needsSignature},
	{"signing twice gives the docket that is there", signsOnce},
	{"sixteen at once sign one docket", sixteenSign},
	{"what comes after signing is kept apart", keepsLateApart},
	{"packing and leaving after signing need no correction", followsSigning},
	{"a booking is done with its last visit", doneWithLastVisit},
	{"a signed docket stays as names and bookings change", staysAsSigned},
}

func freezes(s *suite) {
	d := s.signed()
	mob := s.booking.Mobs[0].ID
	s.same("lines", d.Lines, []jobs.Line{{Mob: mob, Class: booking.Ewe, Service: "drench", Head: 240}, {Mob: mob, Class: booking.Ewe, Service: "weigh", Head: 240}})
	s.same("what it belongs to", []any{d.VisitID, d.BookingID, d.FarmID, d.YardID, d.RigID, d.Day, d.Number},
		[]any{s.visit.ID, s.booking.ID, s.farm.ID, s.visit.YardID, s.rig.ID, sample.Day, s.booking.Number})
	s.same("names", d.Names, jobs.Names{
		Farm: s.farm.Name, Yard: "Home yard", Rig: s.rig.Name, Address: s.farm.Address,
		People: map[booking.ID]string{s.ann.ID: s.ann.Name}, Service: map[string]string{"drench": "Drench", "weigh": "Weigh", "scan": "Scan"},
	})
	s.same("minutes and doubts", []any{d.Minutes, len(d.Doubts)}, []any{145, 0})
	s.same("states", s.states(), [2]string{"signed off", "done"})
	s.same("as kept", found[jobs.SignedDocket](s)(s.Jobs.SignedDocket(s.ctx, d.ID)), d)
	s.same("recorded", s.record(s.visit.ID), []string{"began", "signed off"})
	open := found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID))
	s.same("the visit's docket", open.Signed, d.ID)
}

func needsSignature(s *suite) {
	s.send(s.worked()[:6]...)
	_, err := s.Jobs.Sign(s.ctx, s.visit.ID)
	s.wants(fault.Conflict, err)
	s.same("states", s.states(), [2]string{"under way", "agreed"})
}

func signsOnce(s *suite) {
	d := s.signed()
	s.same("second time", found[jobs.SignedDocket](s)(s.Jobs.Sign(s.ctx, s.visit.ID)), d)
	s.same("recorded", s.record(s.visit.ID), []string{"began", "signed off"})
}

func sixteenSign(s *suite) {
	s.send(s.worked()...)
	var mu sync.Mutex
	ids := map[booking.ID]bool{}
	var signers sync.WaitGroup
	for range 16 {
		signers.Go(func() {
			d, err := s.Jobs.Sign(s.ctx, s.visit.ID)
			if err != nil {
				s.Error(err)
			}
			mu.Lock()
			defer mu.Unlock()
			ids[d.ID] = true
		})
	}
	signers.Wait()
	s.same("dockets", len(ids), 1)
	s.same("dockets kept", len(found[[]jobs.SignedDocket](s)(s.Jobs.SignedDockets(s.ctx, jobs.DocketQuery{}))), 1)
}

func keepsLateApart(s *suite) {
	d := s.signed()
	late := s.event(130, jobs.Counted, s.ewes(7))
	s.same("accepted", s.send(late), 1)
	s.same("the signed docket", found[jobs.SignedDocket](s)(s.Jobs.SignedDocket(s.ctx, d.ID)), d)
	open := found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID))
	s.same("head", open.Docket.Head(), 240)
	if len(open.Late) != 1 || open.Late[0].ID != late.ID || !open.Late[0].Late {
		s.Errorf("late events %+v, want the one that came late", open.Late)
	}
	s.same("visits with something late", found[[]booking.ID](s)(s.Jobs.Late(s.ctx)), []booking.ID{s.visit.ID})
}

func followsSigning(s *suite) {
	s.signed()
	s.send(s.event(160, jobs.Packed, nil), s.event(170, jobs.Left, nil))
	open := found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID))
	s.same("late", open.Late, []jobs.Event{})
	s.same("pack-down", open.Docket.PackingDown(), 19*time.Minute) // 141 to 160
	s.same("visits with something late", found[[]booking.ID](s)(s.Jobs.Late(s.ctx)), []booking.ID{})
}

func doneWithLastVisit(s *suite) {
	first := s.visit
	second := s.placed(sample.Morning.AddDate(0, 0, 1), booking.Fixed)
	s.placed(sample.Morning.AddDate(0, 0, 2), booking.CalledOff)
	s.signed()
	s.same("after the first", s.states(), [2]string{"signed off", "agreed"})
	s.visit = second
	s.signed()
	s.same("after the second", s.states(), [2]string{"signed off", "done"})
	s.visit = first
	s.same("the first", s.states(), [2]string{"signed off", "done"})
}

func staysAsSigned(s *suite) {
	d := s.signed()
	s.farm.Name = "Another name"
	s.must(s.Booking.SaveFarm(s.ctx, &s.farm))
	s.rig.Name = "Another rig"
	s.must(s.Booking.SaveRig(s.ctx, &s.rig))
	s.same("docket", found[jobs.SignedDocket](s)(s.Jobs.SignedDocket(s.ctx, d.ID)), d)
}
