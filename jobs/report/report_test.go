package report_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/jobs"
	"drawbar/jobs/report"
)

// file is a store that only has events.
type file struct {
	jobs.Store
	events []jobs.Event
}

func (f file) Events(context.Context, booking.ID) ([]jobs.Event, error) { return f.events, nil }

func reported(events ...jobs.Event) (schedule.Report, error) {
	return report.Reports{Dockets: file{events: events}}.Reported(context.Background(), "v")
}

var eight = time.Date(2026, 3, 9, 8, 0, 0, 0, time.UTC)

func at(minute int, kind jobs.Kind, what jobs.Payload) jobs.Event {
	return jobs.Event{ID: booking.ID(fmt.Sprint(kind, minute)), VisitID: "v", At: eight.Add(time.Duration(minute) * time.Minute), Kind: kind, What: what}
}

func Example() {
	r, err := reported(at(0, jobs.Arrived, nil), at(20, jobs.Started, nil), at(40, jobs.Counted, jobs.Count{Mob: "ewes", Services: []string{"drench"}, Head: 55}))
	fmt.Println(r.Arrived.Format(time.TimeOnly), r.Started.Format(time.TimeOnly), r.Finished.IsZero(), r.Head, err)
	// Output: 08:00:00 08:20:00 true 55 <nil>
}

// Work that was taken up again has not finished.
func TestHowFar(t *testing.T) {
	var all []jobs.Event
	for _, step := range []struct {
		next jobs.Event
		want schedule.Report
	}{
		{at(0, jobs.Arrived, nil), schedule.Report{Arrived: eight}},
		{at(15, jobs.Started, nil), schedule.Report{Arrived: eight, Started: eight.Add(15 * time.Minute)}},
		{at(50, jobs.Finished, nil), schedule.Report{Arrived: eight, Started: eight.Add(15 * time.Minute), Finished: eight.Add(50 * time.Minute)}},
		{at(55, jobs.Resumed, nil), schedule.Report{Arrived: eight, Started: eight.Add(15 * time.Minute)}},
		{at(60, jobs.Finished, nil), schedule.Report{Arrived: eight, Started: eight.Add(15 * time.Minute), Finished: eight.Add(60 * time.Minute)}},
		{at(80, jobs.Left, nil), schedule.Report{Arrived: eight, Started: eight.Add(15 * time.Minute), Finished: eight.Add(60 * time.Minute), Left: eight.Add(80 * time.Minute)}},
	} {
		all = append(all, step.next)
		if got, err := reported(all...); err != nil || got != step.want {
			t.Errorf("after %s: %+v, %v, want %+v", step.next.Kind, got, err, step.want)
		}
	}
	if got, err := reported(); err != nil || got != (schedule.Report{}) {
		t.Errorf("nothing came in: %+v, %v", got, err)
	}
}
