package learn

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// plainSolve puts farms among the shared effects and solves the whole system,
// with Gauss-Jordan elimination: the same posterior without any of the short
// cuts.
func plainSolve(rows []row, farms int, p prior, s spreads) (mean []float64, cov [][]float64) {
	n := len(p.mean)
	size := n + farms
	a := make([][]float64, size)
	for i := range a {
		a[i] = make([]float64, 2*size+1)
		a[i][size+1+i] = 1
		m, v := -s.farm/2, s.farm
		if i < n {
			m, v = p.mean[i], p.variance[i]
		}
		a[i][i] += 1 / v
		a[i][size] += m / v
	}
	for _, r := range rows {
		x := make([]float64, size)
		for k, c := range r.cols {
			x[c] = r.x[k]
		}
		x[n+r.farm] = 1
		for i := range x {
			for j := range x {
				a[i][j] += r.good / (s.day + r.own) * x[i] * x[j]
			}
			a[i][size] += r.good / (s.day + r.own) * x[i] * r.y
		}
	}
	for i := range a {
		pivot := a[i][i]
		for j := range a[i] {
			a[i][j] /= pivot
		}
		for k := range a {
			if f := a[k][i]; k != i && f != 0 {
				for j := range a[k] {
					a[k][j] -= f * a[i][j]
				}
			}
		}
	}
	mean = make([]float64, size)
	cov = make([][]float64, size)
	for i := range a {
		mean[i], cov[i] = a[i][size], a[i][size+1:]
	}
	return mean, cov
}

func drawSeason(t *rapid.T) (rows []row, farms int, p prior, s spreads) {
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	n := 1 + rng.IntN(5)
	farms = 1 + rng.IntN(6)
	for range n {
		p.mean = append(p.mean, rng.NormFloat64()/5)
		p.variance = append(p.variance, 0.01+rng.Float64()/5)
	}
	s = spreads{0.01 + rng.Float64()/10, 0.02, 0.01 + rng.Float64()/10}
	for range rng.IntN(30) {
		r := row{y: rng.NormFloat64() / 3, farm: rng.IntN(farms), own: rng.Float64() / 100, good: rng.Float64()}
		for _, c := range rng.Perm(n)[:1+rng.IntN(n)] {
			r.cols, r.x = append(r.cols, c), append(r.x, rng.Float64())
		}
		rows = append(rows, r)
	}
	return rows, farms, p, s
}

func TestTakingFarmsOutChangesNothing(t *testing.T) {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-8 }
	rapid.Check(t, func(t *rapid.T) {
		rows, farms, p, s := drawSeason(t)
		mean, cov := plainSolve(rows, farms, p, s)
		f := solve(rows, farms, p, s)
		n := len(p.mean)
		for i := range n {
			if !near(f.mean[i], mean[i]) || !near(f.cov[i][0], cov[i][0]) {
				t.Fatalf("shared effect %d: %g ± %g, want %g ± %g", i, f.mean[i], f.cov[i][0], mean[i], cov[i][0])
			}
		}
		for i := range farms {
			m, v, c := f.farm(i)
			if !near(m, mean[n+i]) || !near(v, cov[n+i][n+i]) || !near(c[n-1], cov[n+i][n-1]) {
				t.Fatalf("farm %d: %g ± %g, want %g ± %g", i, m, v, mean[n+i], cov[n+i][n+i])
			}
		}
	})
}
