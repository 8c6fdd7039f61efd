package storetest

import (
	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
	"drawbar/jobs"
)

var timingChecks = []check{
	{"the time of a docket is taken, settled and comes back", takesTiming},
	{"the timing of a corrected docket stands down", timingFollowsCorrection},
}

func timing(d jobs.SignedDocket, settled bool) jobs.Timing {
	job := pace.Job{
		Mobs:    []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 240, Services: []string{"drench"}, Lots: []pace.Lot{{Head: 240, Size: 3}}}},
		Setting: pace.Setting{Surface: pace.Soft, Hygiene: 2}, Crew: pace.Crew{People: 2, Pusher: true}, FarmID: string(d.FarmID), CrewID: string(d.RigID),
	}
	return jobs.Timing{Docket: learn.Docket{ID: string(d.ID), Job: job, Work: 119.5, SetUp: 20, PackDown: 0.25}, Settled: settled}
}

func (s *suite) untimed(d jobs.SignedDocket, later bool) []jobs.SignedDocket {
	s.Helper()
	at := d.Signed
	if later {
		at = at.Add(1e9)
	}
	return found[[]jobs.SignedDocket](s)(s.Jobs.Untimed(s.ctx, at, 10))
}

func (s *suite) mark() string { return found[string](s)(s.Jobs.TimingMark(s.ctx)) }

func takesTiming(s *suite) {
	s.same("untimed before any is signed", found[[]jobs.SignedDocket](s)(s.Jobs.Untimed(s.ctx, s.clock.now(), 10)), []jobs.SignedDocket{})
	marks := map[string]bool{s.mark(): true}
	d := s.signed()
	s.same("untimed", s.untimed(d, false), []jobs.SignedDocket{d})
	for _, t := range []jobs.Timing{timing(d, false), timing(d, true)} {
		if t.Settled {
			t.PackDown = 31
		}
		s.must(s.Jobs.KeepTimings(s.ctx, []jobs.Timing{t}))
		s.same("timings", found[[]learn.Docket](s)(s.Jobs.Timings(s.ctx)), []learn.Docket{t.Docket})
		s.same("still untimed at once", len(s.untimed(d, false)), 0)
		s.same("still untimed later", len(s.untimed(d, true)) == 0, t.Settled)
		marks[s.mark()] = true
	}
	s.same("marks", len(marks), 3)
	s.must(s.Jobs.KeepTimings(s.ctx, nil))
}

func timingFollowsCorrection(s *suite) {
	d := s.signed()
	s.must(s.Jobs.KeepTimings(s.ctx, []jobs.Timing{timing(d, true)}))
	before := s.mark()
	next := found[jobs.SignedDocket](s)(s.Jobs.Correct(s.ctx, jobs.Correction{
		Docket: d.ID, Reason: "counted twice", Heads: []jobs.Tally{{Mob: s.booking.Mobs[0].ID, Service: "drench", Head: 230}},
	}))
	s.same("timings of standing dockets", len(found[[]learn.Docket](s)(s.Jobs.Timings(s.ctx))), 0)
	s.same("untimed", ids(s.untimed(next, false)), []booking.ID{next.ID})
	s.must(s.Jobs.KeepTimings(s.ctx, []jobs.Timing{timing(next, true)}))
	s.same("timings", found[[]learn.Docket](s)(s.Jobs.Timings(s.ctx))[0].ID, string(next.ID))
	s.same("the mark moved", s.mark() != before, true)
}

func ids(dockets []jobs.SignedDocket) (all []booking.ID) {
	for _, d := range dockets {
		all = append(all, d.ID)
	}
	return all
}
