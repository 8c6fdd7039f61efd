package storetest

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
)

var timeChecks = []check{
	{"base times come back as they went in", keepsBaseTimes},
	{"a dropped base time is gone, and recorded", dropsBaseTimes},
	{"the newest model comes back as it went in", keepsPaceModels},
}

func baseTime(code, covers string) booking.BaseTime {
	p := pace.Prior{Code: code, Seconds: 12.5, CV: 0.35, Origin: pace.Published, Source: awkward[1], Date: "2026-04-10"}
	return booking.BaseTime{Prior: p.ForAnimals(covers)}
}

func keepsBaseTimes(s *suite) {
	s.same("none yet", found[[]booking.BaseTime](s)(s.BaseTimes(s.ctx)), []booking.BaseTime{})
	all := []booking.BaseTime{baseTime("drench", ""), baseTime("drench", "goat"), baseTime("drench", "lamb"), baseTime(pace.PushUp, "")}
	for i := range all {
		s.must(s.SaveBaseTime(s.ctx, &all[i]))
	}
	s.same("base times", found[[]booking.BaseTime](s)(s.BaseTimes(s.ctx)), all)
	all[2].Seconds, all[2].Origin, all[2].Source = 9, pace.Own, ""
	s.must(s.SaveBaseTime(s.ctx, &all[2]))
	s.same("after a change", found[[]booking.BaseTime](s)(s.BaseTimes(s.ctx)), all)
	last := found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Kind: "base time", Subject: "drench/lamb"}))
	s.same("lines in the record", len(last), 2)
	s.same("detail", last[0].Detail, "Drenching, lamb: 9 s a head, spread 35 %, own")
}

func dropsBaseTimes(s *suite) {
	b := baseTime("scan", "")
	s.must(s.SaveBaseTime(s.ctx, &b))
	old := b
	old.Version++
	s.wants(fault.Conflict, s.DropBaseTime(s.ctx, old))
	s.must(s.DropBaseTime(s.ctx, b))
	s.same("base times", len(found[[]booking.BaseTime](s)(s.BaseTimes(s.ctx))), 0)
	s.wants(fault.NotFound, s.DropBaseTime(s.ctx, b))
	last := found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Limit: 1}))
	s.same("verb", last[0].Verb, "dropped")
}

func keepsPaceModels(s *suite) {
	s.same("none yet", found[booking.PaceModel](s)(s.PaceModel(s.ctx)), booking.PaceModel{})
	for version := 1; version <= 8; version++ {
		m := booking.PaceModel{
			Made: time.UnixMilli(1_800_000_000_000 + int64(version)).UTC(), Basis: "b", Dockets: 10 * version,
			Learned: &pace.Learned{Work: pace.Effects{
				Mean: []float64{0.1, -1e-9}, Cov: [][]float64{{1, 0.25}, {0.25, 2}}, Crew: map[string]int{"rig": 1},
				Farm: map[string]pace.FarmEffect{"farm": {Mean: 1.0 / 3, Var: 0.01, Cov: []float64{0, 1}, Visits: 5}}, Day: 0.02,
			}},
			Looks: []booking.Look{{Docket: "d", Sentence: awkward[0]}},
		}
		s.must(s.KeepPaceModel(s.ctx, &m))
		s.same("version", m.Version, version)
		s.same("model", found[booking.PaceModel](s)(s.PaceModel(s.ctx)), m)
		s.same("newest", found[int](s)(s.PaceVersion(s.ctx)), version)
	}
	s.same("lines in the record", len(found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{}))), 0)
}
