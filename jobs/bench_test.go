package jobs_test

import (
	"testing"

	"drawbar/jobs"
)

// A long day: 2,000 taps on a visit.
func BenchmarkFold(b *testing.B) {
	var a at
	events := wholeVisit()
	a.made = len(events)
	for i := range 2000 {
		events = append(events, a.event(60+i/20, jobs.Counted, count(ewes, 1, jobs.Ahead, "drench", "foot-trim")))
	}
	for b.Loop() {
		jobs.Fold(events)
	}
}
