package report

import (
	"context"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/jobs"
)

// Reports reads them from the events on file.
type Reports struct{ Dockets jobs.Store }

// Reported is how far a visit is; zero where nothing has come in.
func (r Reports) Reported(ctx context.Context, visit booking.ID) (schedule.Report, error) {
	events, err := r.Dockets.Events(ctx, visit)
	d := jobs.Fold(events)
	report := schedule.Report{Arrived: d.Arrived, Finished: d.Finished, Left: d.Left, Head: d.Head()}
	if report.Started = d.Started; report.Started.IsZero() && len(d.Work) > 0 {
		report.Started = d.Work[0].From
	}
	return report, err
}
