package main

import (
	"testing"

	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"github.com/riverqueue/river"
)

// A lesson is given when the work starts; the planner of the same process, and
// one that is opened later, use what came of it.
func TestALessonAtTheStart(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		app := openApp(t, d, t.TempDir())
		owner(t, app)
		done, cancel := app.work.client.Subscribe(river.EventKindJobCompleted, river.EventKindJobFailed)
		defer cancel()
		_, stop := started(t, app)
		for event := range done {
			if event.Job.Kind != (learnTimes{}).Kind() {
				continue
			}
			if event.Kind != river.EventKindJobCompleted {
				t.Fatalf("the lesson ended as %s: %v", event.Kind, event.Job.Errors)
			}
			break
		}
		if got := app.Planner.Pace.Version(); got != 1 {
			t.Errorf("the planner uses version %d", got)
		}
		if err := stop(); err != nil {
			t.Error(err)
		}
		if later := openApp(t, d, t.TempDir()); later.Planner.Pace.Version() != 1 {
			t.Errorf("the next process starts with version %d", later.Planner.Pace.Version())
		}
	})
}
