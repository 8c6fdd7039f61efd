package learn

import (
	"maps"
	"math"

	"drawbar/booking/pace"
)

// learn runs the rounds and writes the effects.
func (s *season) learn(out *Result, part Part) pace.Effects {
	now := s.usual
	at := s.prior.mean
	var f *fit
	for round := range rounds {
		if round < basisRounds {
			s.linearise(at[:s.keys])
		}
		s.level(now)
		f = solve(s.rows, s.farms.count, s.prior, now)
		f.judge(s.rows, s.byFarm)
		at = f.mean
		now = f.update(s.rows, s.keys, s.usual)
		now.floor()
	}
	s.flag(f, out, part)
	return s.effects(f)
}

// linearise takes the basis of every row at the shared effects given: the log
// of minutes over base minutes, as if it were linear in the effects.
func (s *season) linearise(at []float64) {
	for i := range s.rows {
		r := &s.rows[i]
		d := &s.dockets[r.docket]
		base, lean, own := s.basis(d, at)
		r.own, r.ratio = own, math.Log(s.minutes(d)/base)
		r.cols, r.x = r.cols[:1], append(r.x[:0], 1) // the crew stays in front
		for k, share := range lean {
			if share != 0 {
				r.cols, r.x = append(r.cols, k), append(r.x, share)
				r.ratio += share * at[k]
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

// effects writes the fit in the form estimates use.
func (s *season) effects(f *fit) pace.Effects {
	e := pace.Effects{
		Mean: f.mean, Cov: f.cov, Crew: map[string]int{}, Farm: map[string]pace.FarmEffect{},
		NewFarm: f.s.farm, NewCrew: f.s.crew, Day: f.s.day,
	}
	for id, c := range s.crews.at {
		e.Crew[id] = s.keys + c
	}
	for id, i := range s.farms.at {
		mean, variance, cov := f.farm(i)
		e.Farm[id] = pace.FarmEffect{Mean: mean, Var: variance, Cov: cov, Visits: len(s.byFarm[i])}
	}
	maps.DeleteFunc(e.Crew, func(id string, _ int) bool { return id == "" })
	return e
}
