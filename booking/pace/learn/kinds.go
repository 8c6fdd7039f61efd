package learn

import (
	"math"

	"drawbar/booking/pace"
)

func logVar(cv float64) float64 { return math.Log1p(cv * cv) }

func workSeason(m *pace.Model, p pace.Priors, dockets []Docket, usable []int) *season {
	s := &season{
		dockets: dockets, usual: spreads{logVar(p.Farm), logVar(p.Crew), logVar(p.Day)},
		minutes: func(d *Docket) float64 { return d.Work },
		basis: func(d *Docket, at []float64) (float64, []float64, float64) {
			b, err := m.Basis(d.Job, at)
			if err != nil {
				return 0, nil, 0
			}
			share := b.Work / (b.Work + b.Changes)
			for k := range b.Lean {
				b.Lean[k] *= share
			}
			return b.Work + b.Changes, b.Lean, b.HeadVar
		},
	}
	for _, v := range m.KeyVars() {
		s.prior.variance = append(s.prior.variance, math.Max(v, 1e-6))
	}
	return s.start(usable)
}

func siteSeason(m *pace.Model, dockets []Docket, usable []int, part Part) *season {
	s := &season{
		dockets: dockets, usual: spreads{logVar(siteFarm), logVar(siteCrew), logVar(siteDay)},
		prior:   prior{variance: []float64{logVar(siteBase)}},
		minutes: func(d *Docket) float64 { return d.SetUp },
		basis: func(d *Docket, at []float64) (float64, []float64, float64) {
			b, _ := m.Basis(d.Job, nil)
			minutes := b.SetUp
			if part == PackDown {
				minutes = b.PackDown
			}
			return minutes * math.Exp(at[0]), []float64{1}, 0
		},
	}
	if part == PackDown {
		s.minutes = func(d *Docket) float64 { return d.PackDown }
	}
	return s.start(usable)
}
