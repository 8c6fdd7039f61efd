package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
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
		before, move := liveVisits(t, app), firstPlaced(t, app)
		page.Expect("409") // it may only go together with others
		if page.Follow("button", fmt.Sprintf("Accept only this: %s, booking %d", move.Farm, move.Number)) != 200 {
			page.Follow("button", "Accept together:")
		}
		page.WaitText("✓ accepted")
		if after := liveVisits(t, app); before[move.Booking] != 0 || after[move.Booking] == 0 {
			t.Errorf("booking %d has %d visits before and %d after it was accepted", move.Number, before[move.Booking], after[move.Booking])
		}
		page.Follow("button", "Undo what was accepted last")
		page.WaitText("Undone: everything is where it was before.")
		page.Axe()
		if after := liveVisits(t, app); !maps.Equal(after, before) {
			t.Errorf("visits of bookings before %v, after undoing %v", before, after)
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

// liveVisits counts the visits of each booking that has some.
func liveVisits(t *testing.T, app *App) map[booking.ID]int {
	t.Helper()
	visits, err := app.Store.Visits(context.Background(), booking.VisitQuery{States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	check(t, err)
	of := map[booking.ID]int{}
	for _, v := range visits {
		of[v.BookingID]++
	}
	return of
}

// firstPlaced is the first booking that the newest plan places anew.
func firstPlaced(t *testing.T, app *App) schedule.Move {
	t.Helper()
	plannings, err := app.Store.Plannings(t.Context(), booking.PlanningQuery{})
	check(t, err)
	found, err := app.Planner.Found(t.Context(), plannings[0].ID)
	check(t, err)
	for _, m := range found.Plan.Moves {
		if m.Kind() == schedule.Placed {
			return m
		}
	}
	t.Fatal("the plan places nothing new")
	return schedule.Move{}
}
