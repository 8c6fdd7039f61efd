package storetest

import (
	"sync"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
)

var correctionChecks = []check{
	{"a correction supersedes and leaves the signed docket as it was", corrects},
	{"a correction takes in what came late", takesInLate},
	{"what comes after a correction is late again", lateAgain},
	{"a superseded docket is not corrected again", correctsStandingOnly},
	{"of eight corrections at once one goes through", correctsOnceAtATime},
	{"a correction without a reason is refused", refusesCorrection},
}

var listChecks = []check{
	{"signed dockets are found by what is asked", findsDockets},
	{"visits without a docket are found", findsUnsigned},
}

// fix sets the ewes drenched.
func (s *suite) fix(d jobs.SignedDocket, head int) jobs.Correction {
	return jobs.Correction{Docket: d.ID, Reason: "Miscounted.", Heads: []jobs.Tally{{Mob: s.booking.Mobs[0].ID, Service: "drench", Head: head}}}
}

func corrects(s *suite) {
	d := s.signed()
	office := booking.As(s.ctx, booking.Actor{Kind: booking.ByPerson, ID: s.ann.ID, Name: s.ann.Name})
	next := found[jobs.SignedDocket](s)(s.Jobs.Correct(office, s.fix(d, 238)))
	s.same("what it says", []any{next.Supersedes, next.Reason, next.By, next.Lines[0].Head, next.Lines[1].Head}, []any{d.ID, "Miscounted.", s.ann.ID, 238, 240})
	before := found[jobs.SignedDocket](s)(s.Jobs.SignedDocket(s.ctx, d.ID))
	s.same("superseded by", before.Superseded, next.ID)
	before.Superseded = ""
	s.same("signed docket", before, d)
	s.same("the visit's docket", found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID)).Signed, next.ID)
	s.same("recorded", s.record(next.ID), []string{"corrected"})
}

func takesInLate(s *suite) {
	d := s.signed()
	s.send(s.event(130, jobs.Counted, s.ewes(7)))
	next := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, jobs.Correction{Docket: d.ID, Reason: "The second phone had no signal.", Late: true}))
	s.same("head", next.Head(), 247)
	s.same("visits with something late", found[[]booking.ID](s)(s.Jobs.Late(s.ctx)), []booking.ID{})
}

func lateAgain(s *suite) {
	d := s.signed()
	s.send(s.event(130, jobs.Counted, s.ewes(7)))
	next := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, jobs.Correction{Docket: d.ID, Reason: "No signal.", Late: true}))
	s.send(s.event(131, jobs.Counted, s.ewes(2)))
	s.same("visits with something late", found[[]booking.ID](s)(s.Jobs.Late(s.ctx)), []booking.ID{s.visit.ID})
	// A correction of a head leaves what came late for another.
	third := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, s.fix(next, 250)))
	open := found[jobs.OpenDocket](s)(s.Jobs.Docket(s.ctx, s.visit.ID))
	s.same("still late", len(open.Late), 1)
	s.same("lines", []int{third.Lines[0].Head, third.Lines[1].Head}, []int{250, 247})
}

func correctsStandingOnly(s *suite) {
	d := s.signed()
	next := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, s.fix(d, 238)))
	_, err := s.Jobs.Correct(s.ctx, s.fix(d, 237))
	s.wants(fault.Conflict, err)
	again := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, s.fix(next, 237)))
	s.same("head of the third", again.Lines[0].Head, 237)
}

func correctsOnceAtATime(s *suite) {
	d := s.signed()
	var mu sync.Mutex
	through := 0
	var clerks sync.WaitGroup
	for i := range 8 {
		clerks.Go(func() {
			_, err := s.Jobs.Correct(s.ctx, s.fix(d, 230+i))
			mu.Lock()
			defer mu.Unlock()
			switch {
			case err == nil:
				through++
			case !fault.Is(err, fault.Conflict):
				s.Errorf("want a conflict, got: %v", err)
			}
		})
	}
	clerks.Wait()
	s.same("corrections that went through", through, 1)
	s.same("dockets", len(found[[]jobs.SignedDocket](s)(s.Jobs.SignedDockets(s.ctx, jobs.DocketQuery{}))), 2)
}

func refusesCorrection(s *suite) {
	d := s.signed()
	c := s.fix(d, 238)
	c.Reason = " "
	_, err := s.Jobs.Correct(s.ctx, c)
	s.wants(fault.Invalid, err)
	_, err = s.Jobs.Correct(s.ctx, jobs.Correction{Docket: booking.NewID(), Reason: "x", Late: true})
	s.wants(fault.NotFound, err)
	_, err = s.Jobs.SignedDocket(s.ctx, booking.NewID())
	s.wants(fault.NotFound, err)
	s.same("the docket stands", found[jobs.SignedDocket](s)(s.Jobs.SignedDocket(s.ctx, d.ID)), d)
}

func findsDockets(s *suite) {
	monday := s.signed()
	s.visit = s.placed(sample.Morning.AddDate(0, 0, 1), booking.Fixed)
	tuesday := s.signed()
	fixed := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, s.fix(tuesday, 239)))
	tuesday.Superseded = fixed.ID
	day := func(after int) civil.Date { return sample.Day.AddDays(after) }
	for what, c := range map[string]struct {
		query jobs.DocketQuery
		want  []jobs.SignedDocket
	}{
		"all, by day":      {jobs.DocketQuery{}, []jobs.SignedDocket{monday, tuesday, fixed}},
		"that stand":       {jobs.DocketQuery{Standing: true}, []jobs.SignedDocket{monday, fixed}},
		"from":             {jobs.DocketQuery{From: day(1)}, []jobs.SignedDocket{tuesday, fixed}},
		"to":               {jobs.DocketQuery{To: day(0)}, []jobs.SignedDocket{monday}},
		"of a farm":        {jobs.DocketQuery{FarmID: s.farm.ID}, []jobs.SignedDocket{monday, tuesday, fixed}},
		"of another farm":  {jobs.DocketQuery{FarmID: booking.NewID()}, nil},
		"of a visit":       {jobs.DocketQuery{VisitID: monday.VisitID}, []jobs.SignedDocket{monday}},
		"at most one":      {jobs.DocketQuery{Limit: 1}, []jobs.SignedDocket{monday}},
		"after everything": {jobs.DocketQuery{From: day(2)}, nil},
	} {
		s.same(what, found[[]jobs.SignedDocket](s)(s.Jobs.SignedDockets(s.ctx, c.query)), c.want)
	}
}

func findsUnsigned(s *suite) {
	ids := func(until civil.Date) []booking.ID {
		var all []booking.ID
		for _, v := range found[[]booking.Visit](s)(s.Jobs.Unsigned(s.ctx, until)) {
			all = append(all, v.ID)
		}
		return all
	}
	today := sample.Day
	s.same("on its day, before anything happened", ids(today), []booking.ID(nil))
	s.same("the day after", ids(today.AddDays(1)), []booking.ID{s.visit.ID})
	s.send(s.event(0, jobs.Arrived, nil))
	s.same("on its day, under way", ids(today), []booking.ID{s.visit.ID})
	s.placed(sample.Morning.AddDate(0, 0, -1), booking.CalledOff)
	s.signed()
	s.same("signed", ids(today.AddDays(1)), []booking.ID(nil))
}
