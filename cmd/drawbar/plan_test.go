package main

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/web/webtest"
)

// The contractor asks for a plan, watches it, stops it, accepts one booking of
// it and undoes that, on a server that only serves: another process plans.
func TestPlanInTheBrowser(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		loadedDemo(t, d)
		app := newStoryApp(t, d, (*App).Serve)
		working, err := Open(t.Context(), app.Config, time.Now, quietLog)
		check(t, err)
		page := webtest.Start(t).Page(webtest.Desktop)
		enter(t, app, page, booking.Owner)
		page.Go(app.Config.URL + "/week")
		page.Follow("link", "Week after")
		page.Fill("How long to look for a plan", "5 min")
		page.Follow("button", "Plan this week")
		page.WaitText("Waiting for somebody to begin")
		page.Axe()
		worksBeside(t, working)
		page.WaitText("Looking for the best plan")
		page.Wait(`document.querySelector("progress")?.value > 0`)
		page.InBothThemes("plan-progress-wide")
		webtest.Eval[bool](page, `document.getElementById("stop").click() || true`) // the button is drawn anew every second
		page.WaitText("Nothing is moved until you accept.")
		page.Axe()
		before := liveVisits(t, app)
		if page.Follow("button", firstMove(t, app, page)) != 200 {
			page.Follow("button", "Accept together:")
		}
		page.WaitText("✓ accepted")
		if after := liveVisits(t, app); after <= before {
			t.Errorf("%d visits before and %d after one was accepted", before, after)
		}
		page.Follow("button", "Undo what was accepted last")
		page.WaitText("Undone: everything is where it was before.")
		page.Axe()
		if after := liveVisits(t, app); after != before {
			t.Errorf("%d visits before and %d after undoing", before, after)
		}
	})
}

// worksBeside does the background work until the test ends.
func worksBeside(t *testing.T, app *App) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- app.work.run(ctx) }()
	t.Cleanup(func() {
		stop()
		if err := errors.Join(<-ended, app.Close()); err != nil {
			t.Errorf("working: %v", err)
		}
	})
}

func liveVisits(t *testing.T, app *App) int {
	t.Helper()
	visits, err := app.Store.Visits(context.Background(), booking.VisitQuery{States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	check(t, err)
	return len(visits)
}

// firstMove is the button that accepts the first booking of the newest plan.
func firstMove(t *testing.T, app *App, page *webtest.Page) string {
	t.Helper()
	page.Expect("409") // it may only go together with another
	plannings, err := app.Store.Plannings(t.Context(), booking.PlanningQuery{})
	check(t, err)
	found, err := app.Planner.Found(t.Context(), plannings[0].ID)
	check(t, err)
	for _, m := range found.Plan.Moves {
		if m.Kind() == schedule.Placed {
			return fmt.Sprintf("Accept only this: %s, booking %d", m.Farm, m.Number)
		}
	}
	t.Fatal("the plan places nothing new")
	return ""
}
