package learn

import "testing"

// BenchmarkLearn works through 20,000 dockets of 800 farms.
func BenchmarkLearn(b *testing.B) {
	w := newTruth(1, 800)
	dockets := make([]Docket, 20_000)
	for i := range dockets {
		dockets[i], _ = w.visit(i)
	}
	for b.Loop() {
		if _, err := Learn(w.model.Priors(), dockets); err != nil {
			b.Fatal(err)
		}
	}
}
