package pace

import "testing"

func benchmarkEstimate(b *testing.B, j Job) {
	m := DefaultModel()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Estimate(j); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEstimate(b *testing.B) { benchmarkEstimate(b, plain()) }

func BenchmarkEstimateTwoMobsWithPusher(b *testing.B) {
	benchmarkEstimate(b, changed(func(j *Job) {
		j.Crew = Crew{People: 2, Pusher: true}
		j.Mobs[0].Services = []string{Drench, Inject, Condition}
		j.Mobs = append(j.Mobs, Mob{
			Species: Sheep, Class: Lamb, Head: 180, Services: []string{Weigh, Sort},
			Lots: []Lot{{60, 1}, {70, 2}, {50, 3}}, NewToCrate: true,
		})
	}))
}
