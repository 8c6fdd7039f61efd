package learn

import (
	"maps"
	"math"

	"drawbar/booking/pace"
)

// Effects, spreads and oddness are estimated in turn until the spreads stand
// still. The basis is taken again at each of the first rounds: shares of time
// move as services do.
const (
	maxRounds   = 15
	basisRounds = 3
	still       = 0.01 // relative change of a spread
)

// learn runs the rounds and writes the effects.
func (s *season) learn(out *Result) pace.Effects {
	now := s.usual
	var at []float64
	var f *fit
	for round := range maxRounds {
		if round < basisRounds {
			s.linearise(at)
		}
		s.level(now)
		solve(s.rows, len(s.farms), s.prior, now).judge(s.rows, s.byFarm)
		f = solve(s.rows, len(s.farms), s.prior, now) // without what was just found odd
		at = f.mean[:s.keys]
		next := f.update(s.rows, s.keys, s.usual)
		next.floor()
		if round >= basisRounds && next.near(now) {
			break
		}
		now = next
	}
	s.flag(f, out)
	return s.effects(f)
}

func (s spreads) near(o spreads) bool {
	close := func(a, b float64) bool { return math.Abs(a-b) <= still*b }
	return close(s.farm, o.farm) && close(s.crew, o.crew) && close(s.day, o.day)
}

// linearise takes the base of every row at the shared effects given: the log of
// minutes over base minutes, as if it were linear in the effects.
func (s *season) linearise(at []float64) {
	from := at
	if from == nil {
		from = s.prior.mean
	}
	for i := range s.rows {
		r := &s.rows[i]
		base, lean, own := s.base(r.docket, at)
		r.own, r.ratio = own, math.Log(r.minutes/base)
		r.cols, r.x = r.cols[:1], append(r.x[:0], 1) // the crew stays in front
		for k, share := range lean {
			if share != 0 {
				r.cols, r.x = append(r.cols, k), append(r.x, share)
				r.ratio += share * from[k]
			}
		}
	}
}

// level sets every row and the crews to the spreads of the round: days, single
// animals and crews have mean 1, so their logarithms start at −variance/2.
func (s *season) level(now spreads) {
	for i := range s.rows {
		r := &s.rows[i]
		r.y = r.ratio + (now.day+r.own)/2
	}
	for c := s.keys; c < len(s.prior.mean); c++ {
		s.prior.mean[c], s.prior.variance[c] = -now.crew/2, now.crew
	}
}

// effects writes the fit in the form estimates use. Dockets that name no farm
// or crew taught about services, but nobody can ask for them.
func (s *season) effects(f *fit) pace.Effects {
	e := pace.Effects{
		Mean: f.mean, Cov: f.cov, Crew: map[string]int{}, Farm: map[string]pace.FarmEffect{},
		NewFarm: f.s.farm, NewCrew: f.s.crew, Day: f.s.day,
	}
	for id, c := range s.crews {
		e.Crew[id] = s.keys + c
	}
	for id, i := range s.farms {
		mean, variance, cov := f.farm(i)
		e.Farm[id] = pace.FarmEffect{Mean: mean, Var: variance, Cov: cov, Visits: len(s.byFarm[i])}
	}
	maps.DeleteFunc(e.Crew, func(id string, _ int) bool { return id == "" })
	maps.DeleteFunc(e.Farm, func(id string, _ pace.FarmEffect) bool { return id == "" })
	return e
}
