package main

import (
	"context"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"

	"github.com/riverqueue/river"
)

// planQueue is where plans wait.
const planQueue = "plans"

// planWeek is the work of searching for a plan that was asked for.
type planWeek struct {
	Planning booking.ID `json:"planning"`
}

// Kind names the work in the database.
func (planWeek) Kind() string { return "plan_week" }

// InsertOpts leaves beginning again to the clock: a planning keeps its own
// account of who searches and how often somebody began.
func (planWeek) InsertOpts() river.InsertOpts {
	return river.InsertOpts{MaxAttempts: 1, Queue: planQueue}
}

type planWorker struct {
	river.WorkerDefaults[planWeek]
	planner *schedule.Planner
	ending  <-chan struct{}
}

// Timeout leaves room for the longest search and for reasons after it.
func (*planWorker) Timeout(*river.Job[planWeek]) time.Duration {
	return booking.MaxPlanSeconds*time.Second + 5*time.Minute
}

// Work searches. When the program is to end it stops with the best so far.
func (w *planWorker) Work(ctx context.Context, job *river.Job[planWeek]) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() {
		select {
		case <-w.ending:
			cancel()
		case <-ctx.Done():
		}
	}()
	return w.planner.Work(ctx, job.Args.Planning)
}
