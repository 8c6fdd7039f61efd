package main

import (
	"context"
	"time"

	"drawbar/jobs/lesson"

	"github.com/riverqueue/river"
	"gorm.io/gorm"
)

// learnTimes is the work of learning from dockets signed since.
type learnTimes struct{}

// Kind names the work in the database.
func (learnTimes) Kind() string { return "learn_times" }

// InsertOpts leaves trying again to the clock, which asks every minute.
func (learnTimes) InsertOpts() river.InsertOpts { return river.InsertOpts{MaxAttempts: 1} }

type lessonWorker struct {
	river.WorkerDefaults[learnTimes]
	teacher *lesson.Teacher
}

// Timeout is long enough for the first lesson of a large business.
func (*lessonWorker) Timeout(*river.Job[learnTimes]) time.Duration { return 10 * time.Minute }

// Work learns.
func (w *lessonWorker) Work(ctx context.Context, _ *river.Job[learnTimes]) error {
	return w.teacher.Teach(ctx)
}

// study asks for a lesson.
func (b *background) study(tx *gorm.DB) error { return b.insert(tx, learnTimes{}) }

// followEvery is how soon a process uses what another has learned.
const followEvery = 10 * time.Second

// follow keeps this process on the newest model until the context ends.
func (a *App) follow(ctx context.Context) error {
	tick := time.NewTicker(followEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-tick.C:
			if err := a.Teacher.Refresh(ctx); err != nil && ctx.Err() == nil {
				a.Log.Error("the newest times are not in use yet", "error", err)
			}
		}
	}
}
