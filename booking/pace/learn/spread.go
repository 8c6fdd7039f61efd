package learn

// A spread counts as many groups, or dockets, of the usual spread as this
// before its own are looked at, so that three farms do not decide it.
const usualCount = 5.0

// update estimates the spreads again, around a fit.
func (f *fit) update(rows []row, keys int, usual spreads) spreads {
	return spreads{
		farm: f.farmSpread(usual.farm),
		crew: f.crewSpread(keys, usual.crew),
		day:  f.daySpread(rows, usual.day),
	}
}

// farmSpread compares the raw means of farms, each with its variance.
func (f *fit) farmSpread(usual float64) float64 {
	var raw, variances []float64
	for i := range f.farms {
		ff := &f.farms[i]
		if ff.weight < 1e-6 {
			continue
		}
		mean := ff.sum
		for k, l := range ff.lean {
			mean -= l * f.mean[k]
		}
		raw = append(raw, mean/ff.weight)
		variances = append(variances, 1/ff.weight)
	}
	if len(raw) == 0 {
		return usual
	}
	_, seen := between(raw, variances)
	return pooled(usual, seen*float64(len(raw)), float64(len(raw)))
}

// crewSpread is the mean square of crews about where crews start.
func (f *fit) crewSpread(keys int, usual float64) float64 {
	sum := 0.0
	for c := keys; c < len(f.mean); c++ {
		off := f.mean[c] + f.s.crew/2
		sum += off*off + f.cov[c][c]
	}
	return pooled(usual, sum, float64(len(f.mean)-keys))
}

// daySpread is the mean square of what no effect explains, less what single
// animals bring.
func (f *fit) daySpread(rows []row, usual float64) float64 {
	farmMean, farmVar := make([]float64, len(f.farms)), make([]float64, len(f.farms))
	farmCov := make([][]float64, len(f.farms))
	for i := range f.farms {
		farmMean[i], farmVar[i], farmCov[i] = f.farm(i)
	}
	sum, count := 0.0, 0.0
	for i := range rows {
		r := &rows[i]
		mean, variance := f.shared(r)
		variance += farmVar[r.farm]
		for a, k := range r.cols {
			variance += 2 * r.x[a] * farmCov[r.farm][k]
		}
		off := r.y - mean - farmMean[r.farm]
		share := f.s.day / (f.s.day + r.own)
		sum += r.good * (share*share*(off*off+variance) + share*r.own)
		count += r.good
	}
	return pooled(usual, sum, count)
}

func pooled(usual, sum, count float64) float64 {
	return (usualCount*usual + sum) / (usualCount + count)
}
