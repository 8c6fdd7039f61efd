package learn

import "math"

func square(n int) [][]float64 {
	flat := make([]float64, n*n)
	m := make([][]float64, n)
	for i := range m {
		m[i] = flat[i*n : (i+1)*n]
	}
	return m
}

func times(m [][]float64, v []float64) []float64 {
	out := make([]float64, len(m))
	for i, mi := range m {
		for j, x := range v {
			out[i] += mi[j] * x
		}
	}
	return out
}

// invert gives the inverse of a symmetric positive definite matrix by
// Cholesky's decomposition. m is overwritten.
func invert(m [][]float64) [][]float64 {
	n := len(m)
	cholesky(m)
	inv := square(n)
	column := make([]float64, n)
	for k := range n {
		clear(column)
		column[k] = 1
		for i := k; i < n; i++ { // forward
			for j := k; j < i; j++ {
				column[i] -= m[i][j] * column[j]
			}
			column[i] /= m[i][i]
		}
		for i := n - 1; i >= 0; i-- { // back
			for j := i + 1; j < n; j++ {
				column[i] -= m[j][i] * column[j]
			}
			column[i] /= m[i][i]
			inv[i][k] = column[i]
		}
	}
	return inv
}

// cholesky replaces the lower half of m by its root.
func cholesky(m [][]float64) {
	for i := range m {
		for j := 0; j <= i; j++ {
			sum := m[i][j]
			for k := range j {
				sum -= m[i][k] * m[j][k]
			}
			if i == j {
				m[i][i] = math.Sqrt(math.Max(sum, 1e-12))
			} else {
				m[i][j] = sum / m[j][j]
			}
		}
	}
}
