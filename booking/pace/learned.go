package pace

import "math"

// Learned is what signed dockets have taught. It is made by package learn and
// never changed afterwards. A nil *Learned knows nothing yet.
type Learned struct {
	Work     Effects // by service, farm and crew
	SetUp    Effects // one key: all set-ups
	PackDown Effects // one key: all pack-downs
}

// Effects are log-multipliers on a base time: shared ones (the keys, then the
// crews seen), one for each farm seen, and the spread of what has not been
// seen. All factors have mean 1 before anything is learned, so a log-multiplier
// with variance v starts at −v/2.
type Effects struct {
	Mean []float64      // keys first, then crews
	Cov  [][]float64    // posterior covariance of Mean
	Crew map[string]int // index of a crew in Mean
	Farm map[string]FarmEffect
	// Log-variances: of a farm and a crew never seen, and from visit to visit.
	NewFarm, NewCrew, Day float64
}

// FarmEffect is what is known of one farm.
type FarmEffect struct {
	Mean   float64   // log-multiplier
	Var    float64   // its posterior variance
	Cov    []float64 // its covariance with Effects.Mean
	Visits int       // dockets it rests on
}

// check tells whether effects are of the size this program works with; those
// of an older program may not be.
func (e *Effects) check(keys int) *Error {
	n := len(e.Mean)
	sound := n >= keys && len(e.Cov) == n && e.NewFarm >= 0 && e.NewCrew >= 0 && e.Day >= 0
	for _, row := range e.Cov {
		sound = sound && len(row) == n
	}
	for _, at := range e.Crew {
		sound = sound && at >= 0 && at < n
	}
	for _, f := range e.Farm {
		sound = sound && len(f.Cov) == n
	}
	if !sound {
		return bad("learned", "What was learned does not fit this program; learn again from the dockets.")
	}
	return nil
}

func (l *Learned) check() *Error {
	if err := l.Work.check(keyCount); err != nil {
		return err
	}
	for _, e := range []*Effects{&l.SetUp, &l.PackDown} {
		if len(e.Mean) == 0 {
			continue // nothing learned about it
		}
		if err := e.check(1); err != nil {
			return err
		}
	}
	return nil
}

// belief is what an estimate takes from effects, for one farm and one crew.
type belief struct {
	factor vec        // mean multiplier of each key
	cov    covariance // doubt about the keys
	common float64    // mean multiplier of farm, crew and day together
	spread float64    // its log-variance
	tie    vec        // covariance of each key with farm and crew together
}

// start is the belief with nothing learned.
func start(vars *vec, p *Priors) belief {
	b := belief{common: 1, spread: logVar(p.Farm) + logVar(p.Crew) + logVar(p.Day)}
	for k := range vars {
		b.factor[k], b.cov[k][k] = 1, vars[k]
	}
	return b
}

// belief gathers the work effects for a farm and a crew.
func (e *Effects) belief(farm, crew string) belief {
	var b belief
	for k := range b.factor {
		b.factor[k] = math.Exp(e.Mean[k] + e.Cov[k][k]/2)
		copy(b.cov[k][:], e.Cov[k][:keyCount])
	}
	mean, variance, tie := e.place(farm, crew)
	b.common = math.Exp(mean - e.Day/2 + (variance+e.Day)/2)
	b.spread = variance + e.Day
	copy(b.tie[:], tie)
	return b
}

// place is the log-multiplier of farm and crew together: mean, variance, and
// covariance with the shared effects.
func (e *Effects) place(farm, crew string) (mean, variance float64, tie []float64) {
	tie = make([]float64, len(e.Mean))
	c, known := e.Crew[crew]
	if known {
		mean, variance = e.Mean[c], e.Cov[c][c]
		copy(tie, e.Cov[c])
	} else {
		mean, variance = -e.NewCrew/2, e.NewCrew
	}
	f, seen := e.Farm[farm]
	if !seen {
		return mean - e.NewFarm/2, variance + e.NewFarm, tie
	}
	if known {
		variance += 2 * f.Cov[c]
	}
	for i := range tie {
		tie[i] += f.Cov[i]
	}
	return mean + f.Mean, variance + f.Var, tie
}
