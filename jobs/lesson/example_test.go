package lesson_test

import (
	"fmt"
	"time"

	"drawbar/booking"
	"drawbar/jobs"
	"drawbar/jobs/lesson"
)

func ExampleObserve() {
	at := time.Date(2026, 3, 9, 8, 0, 0, 0, time.UTC)
	timing := lesson.Observe(jobs.SignedDocket{
		Mobs:   []jobs.MobLine{{ID: "m", Class: booking.Ewe, Worked: 120}},
		Lines:  []jobs.Line{{Mob: "m", Class: booking.Ewe, Service: "drench", Head: 120}},
		Docket: jobs.Docket{Arrived: at, Work: []jobs.Span{{From: at.Add(30 * time.Minute), To: at.Add(75 * time.Minute)}}},
	}, lesson.Around{})
	fmt.Printf("%d head in %.0f min\n", timing.Job.Head(), timing.Work)
	// Output: 120 head in 45 min
}
