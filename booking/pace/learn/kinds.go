package learn

import (
	"math"

	"drawbar/booking/pace"
)

// Usual spreads of set-up and pack-down as coefficients of variation (common
// practice, no source): of the base value, from farm to farm, crew to crew, day
// to day.
const (
	siteBase = 0.2
	siteFarm = 0.15
	siteCrew = 0.1
	siteDay  = 0.15
)

func logVar(cv float64) float64 { return math.Log1p(cv * cv) }

// workPrior is the doubt about services and motions; all have mean 1.
func workPrior(m *pace.Model) prior {
	var p prior
	for _, v := range m.KeyVars() {
		v = math.Max(v, leastVar)
		p.variance = append(p.variance, v)
		p.mean = append(p.mean, -v/2)
	}
	return p
}

// workSeason compares work. Walls and gates are in the docket's minutes, so
// they are in the base as well, and the services' shares are less by as much.
func workSeason(m *pace.Model, p *pace.Priors, services prior, usable []based) *season {
	s := &season{
		part: Work, prior: services, usual: spreads{logVar(p.Farm), logVar(p.Crew), logVar(p.Day)},
		base: func(d *based, at []float64) (float64, []float64, float64) {
			if at != nil {
				d.basis, _ = m.Basis(d.Job, at) // checked when it was first taken
			}
			b := &d.basis
			minutes := b.Work + b.Changes
			lean := make([]float64, len(b.Lean))
			for k, share := range b.Lean {
				lean[k] = share * b.Work / minutes
			}
			return minutes, lean, b.HeadVar
		},
	}
	return s.start(usable, func(d *based) float64 { return d.Work })
}

// siteSeason compares set-up or pack-down: one shared effect for all yards.
func siteSeason(part Part, usable []based) *season {
	v := logVar(siteBase)
	base, minutes := siteTimes(part)
	s := &season{
		part: part, prior: prior{[]float64{-v / 2}, []float64{v}},
		usual: spreads{logVar(siteFarm), logVar(siteCrew), logVar(siteDay)},
		base: func(d *based, at []float64) (float64, []float64, float64) {
			log := -v / 2
			if at != nil {
				log = at[0]
			}
			return base(d) * math.Exp(log), []float64{1}, 0
		},
	}
	return s.start(usable, minutes)
}

func siteTimes(part Part) (base, minutes func(*based) float64) {
	if part == SetUp {
		return func(d *based) float64 { return d.basis.SetUp }, func(d *based) float64 { return d.SetUp }
	}
	return func(d *based) float64 { return d.basis.PackDown }, func(d *based) float64 { return d.PackDown }
}
