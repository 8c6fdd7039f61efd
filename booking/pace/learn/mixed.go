package learn

// row is one docket's equation: y = Σ x·shared + farm + noise.
type row struct {
	docket  *based
	minutes float64   // as signed
	ratio   float64   // log of minutes over base minutes, as linearised
	y       float64   // the same, levelled for the round
	cols    []int     // shared effects that matter, each once
	x       []float64 // how much of them
	farm    int       // index of the farm
	own     float64   // variance this docket has of its own (from single animals)
	good    float64   // probability that nothing went wrong with it
}

// spreads are log-variances between farms, crews and days.
type spreads struct{ farm, crew, day float64 }

// prior of the shared effects.
type prior struct{ mean, variance []float64 }

// farmFit is one farm with the shared effects held fixed: its raw sum and what
// is needed to bring their doubt back in.
type farmFit struct {
	weight float64   // Σ precision of its dockets
	sum    float64   // Σ precision · y
	lean   []float64 // Σ precision · x, over all shared effects
}

// fit is the posterior of all effects for given spreads.
type fit struct {
	mean  []float64
	cov   [][]float64
	farms []farmFit
	s     spreads
}

// solve finds the posterior by taking the farms out of the equations first:
// they meet only in the shared effects, so what is left is one small dense
// system however many farms there are.
func solve(rows []row, farms int, p prior, s spreads) *fit {
	n := len(p.mean)
	f := &fit{farms: make([]farmFit, farms), s: s}
	flat := make([]float64, farms*n)
	for i := range f.farms {
		f.farms[i].lean = flat[i*n : (i+1)*n]
	}
	precision, rhs := square(n), make([]float64, n)
	for k := range n {
		precision[k][k] = 1 / p.variance[k]
		rhs[k] = p.mean[k] / p.variance[k]
	}
	for i := range rows {
		f.take(&rows[i], precision, rhs)
	}
	for i := range f.farms {
		f.farms[i].takeOut(precision, rhs, 1/s.farm)
	}
	f.cov = invert(precision)
	f.mean = times(f.cov, rhs)
	return f
}

func (f *fit) take(r *row, precision [][]float64, rhs []float64) {
	w := r.good / (f.s.day + r.own)
	y := r.y + f.s.farm/2 // farms start at −variance/2
	farm := &f.farms[r.farm]
	farm.weight += w
	farm.sum += w * y
	for a, i := range r.cols {
		wx := w * r.x[a]
		farm.lean[i] += wx
		rhs[i] += wx * y
		for b, j := range r.cols {
			precision[i][j] += wx * r.x[b]
		}
	}
}

func (f *farmFit) takeOut(precision [][]float64, rhs []float64, prior float64) {
	total := f.weight + prior
	for i, li := range f.lean {
		if li == 0 {
			continue
		}
		rhs[i] -= li * f.sum / total
		for j, lj := range f.lean {
			precision[i][j] -= li * lj / total
		}
	}
}

// farm is the posterior of one farm: mean, variance and covariance with the
// shared effects.
func (f *fit) farm(i int) (mean, variance float64, cov []float64) {
	ff := &f.farms[i]
	total := ff.weight + 1/f.s.farm
	mean = ff.sum/total - f.s.farm/2
	cov = times(f.cov, ff.lean)
	variance = 1 / total
	for k, l := range ff.lean {
		cov[k] /= -total
		mean -= l / total * f.mean[k]
		variance -= l / total * cov[k]
	}
	return mean, variance, cov
}

// shared is what the shared effects expect of a row, with its variance.
func (f *fit) shared(r *row) (mean, variance float64) {
	for a, i := range r.cols {
		mean += r.x[a] * f.mean[i]
		for b, j := range r.cols {
			variance += r.x[a] * r.x[b] * f.cov[i][j]
		}
	}
	return mean, variance
}
