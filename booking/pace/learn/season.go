package learn

import "math"

// season is one kind of time over all dockets.
type season struct {
	part   Part
	keys   int // shared effects before the crews
	prior  prior
	usual  spreads
	rows   []row
	farms  index
	crews  index
	byFarm [][]int
	// base is the base minutes of a docket at log-multipliers (nil: as the prior
	// has them), the shares by key, and the log-variance from single animals.
	base func(d *based, at []float64) (minutes float64, lean []float64, own float64)
}

// index numbers names in the order they are met.
type index map[string]int

func (x index) of(name string) (i int, isNew bool) {
	i, known := x[name]
	if !known {
		i = len(x)
		x[name] = i
	}
	return i, !known
}

// start makes a row of every docket that has this kind of time.
func (s *season) start(usable []based, minutes func(*based) float64) *season {
	s.keys = len(s.prior.mean)
	s.farms, s.crews = index{}, index{}
	s.usual.floor()
	for i := range usable {
		d := &usable[i]
		base, _, _ := s.base(d, nil)
		if base <= 0 || minutes(d) <= 0 {
			continue
		}
		farm, _ := s.farms.of(d.Job.FarmID)
		s.rows = append(s.rows, row{docket: d, minutes: minutes(d), farm: farm, cols: []int{s.crew(d.Job.CrewID)}, good: 1})
	}
	s.byFarm = make([][]int, len(s.farms))
	for i := range s.rows {
		f := s.rows[i].farm
		s.byFarm[f] = append(s.byFarm[f], i)
	}
	return s
}

// crew is the column of a crew among the shared effects. Dockets without a crew
// share one.
func (s *season) crew(id string) int {
	c, isNew := s.crews.of(id)
	if isNew {
		s.prior.mean = append(s.prior.mean, -s.usual.crew/2)
		s.prior.variance = append(s.prior.variance, s.usual.crew)
	}
	return s.keys + c
}

// leastVar keeps variances above zero so that precisions stay finite.
const leastVar = 1e-5

func (s *spreads) floor() {
	s.farm, s.crew, s.day = math.Max(s.farm, leastVar), math.Max(s.crew, leastVar), math.Max(s.day, leastVar)
}
