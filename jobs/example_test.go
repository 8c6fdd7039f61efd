package jobs_test

import (
	"fmt"

	"drawbar/jobs"
)

// Two phones count the same mob; the events arrive late, twice and in any
// order, and the docket is the same.
func ExampleFold() {
	var a at
	first := a.event(10, jobs.Counted, count(ewes, 120, jobs.Ahead, "drench"))
	second := a.event(11, jobs.Counted, count(ewes, 118, jobs.LeftGate, "drench"))
	docket := jobs.Fold([]jobs.Event{second, first, second})
	fmt.Println(docket.Head(), "ewes drenched")
	for _, says := range jobs.Reconcile(docket, jobs.Sheet{Mobs: sheet().Mobs[:1], Services: sheet().Services}) {
		fmt.Println(says)
	}
	// Output:
	// 238 ewes drenched
	// 240 ewes booked, 238 worked: 2 not accounted for.
	// Foot trim was done to 0 of the 238 ewes.
	// The start of the work was not recorded, so there is no pace.
	// The arrival was not recorded.
}
