package learn

import (
	"drawbar/booking/pace"
)

// Result is what a set of dockets has taught.
type Result struct {
	Learned *pace.Learned
	Odd     []Odd    // in the order of the dockets
	Unused  []Unused // likewise
}

// rounds of estimating effects, spreads and oddness in turn. The basis is taken
// again at each of the first turns: shares of time move as services do.
const (
	rounds      = 12
	basisRounds = 3
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

// Learn works through dockets with the base values of a model. What the model
// itself may have learned before is not used, so dockets never count twice.
func Learn(p pace.Priors, dockets []Docket) (Result, error) {
	m, err := pace.NewModel(p, nil)
	if err != nil {
		return Result{}, err
	}
	var out Result
	usable := make([]int, 0, len(dockets))
	for i := range dockets {
		if err := dockets[i].check(); err != nil {
			out.Unused = append(out.Unused, Unused{dockets[i].ID, err})
			continue
		}
		usable = append(usable, i)
	}
	out.Learned = &pace.Learned{
		Work:     workSeason(m, p, dockets, usable).learn(&out, Work),
		SetUp:    siteSeason(m, dockets, usable, SetUp).learn(&out, SetUp),
		PackDown: siteSeason(m, dockets, usable, PackDown).learn(&out, PackDown),
	}
	return out, nil
}
