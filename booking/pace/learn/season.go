package learn

import (
	"math"
)

// season is one kind of time over all dockets.
type season struct {
	dockets []Docket
	keys    int
	prior   prior
	usual   spreads
	rows    []row
	farms   index
	crews   index
	byFarm  [][]int
	minutes func(d *Docket) float64
	// basis is the base minutes at log-multipliers, the shares by key, and the
	// variance from single animals.
	basis func(d *Docket, at []float64) (minutes float64, lean []float64, own float64)
}

// index numbers names in the order they are met. The empty name is a stranger
// each time.
type index struct {
	at    map[string]int
	count int
}

func (x *index) of(name string) int {
	if i, ok := x.at[name]; ok && name != "" {
		return i
	}
	i := x.count
	x.count++
	if name != "" {
		x.at[name] = i
	}
	return i
}

// start sets up rows, farms and crews.
func (s *season) start(usable []int) *season {
	s.keys = len(s.prior.variance)
	s.farms, s.crews = index{at: map[string]int{}}, index{at: map[string]int{}}
	s.usual.floor()
	for _, v := range s.prior.variance {
		s.prior.mean = append(s.prior.mean, -v/2)
	}
	at := s.prior.mean
	for _, i := range usable {
		d := &s.dockets[i]
		if base, _, _ := s.basis(d, at); base <= 0 || s.minutes(d) <= 0 {
			continue
		}
		r := row{docket: i, farm: s.farms.of(d.Job.FarmID), good: 1}
		s.crew(&r, d.Job.CrewID)
		s.rows = append(s.rows, r)
	}
	s.byFarm = make([][]int, s.farms.count)
	for i := range s.rows {
		f := s.rows[i].farm
		s.byFarm[f] = append(s.byFarm[f], i)
	}
	return s
}

// crew puts the crew's column first in a row. Nameless crews share a column of
// their own.
func (s *season) crew(r *row, id string) {
	c, known := s.crews.at[id]
	if !known {
		c = s.crews.count
		s.crews.at[id] = c
		s.crews.count++
		s.prior.mean = append(s.prior.mean, -s.usual.crew/2)
		s.prior.variance = append(s.prior.variance, s.usual.crew)
	}
	r.cols = append(r.cols, s.keys+c)
}

// floor keeps spreads above zero so that precisions stay finite.
func (s *spreads) floor() {
	const least = 1e-5
	s.farm, s.crew, s.day = math.Max(s.farm, least), math.Max(s.crew, least), math.Max(s.day, least)
}
