package demo_test

import (
	"os"
	"path/filepath"
	"testing"

	"drawbar/booking"
	"drawbar/booking/schedule"
	"drawbar/cmd/drawbar/demo"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"

	"cloud.google.com/go/civil"
)

// season is a database as bytes, to begin many times from.
type season []byte

// promisedSeason is the demo with the weeks ahead planned in one go and every
// visit of them promised to its farmer. Bookings without a day are taken out:
// a plan made afresh would place them, and mending leaves them alone.
func promisedSeason(t *testing.T) season {
	t.Helper()
	d := dbtest.SQLite(t)
	p := parts(t, d)
	must(t, demo.Load(t.Context(), p))
	for _, w := range want[*schedule.Week](t)(p.Planner.Week(t.Context(), demoDay, 28)).Tray {
		w.Booking.State = booking.Withdrawn
		must(t, p.Store.ChangeBooking(t.Context(), booking.BookingChange{Booking: &w.Booking, Verb: "withdrew"}))
	}
	unpromise(t, p)
	order := want[booking.Planning](t)(p.Planner.Ask(t.Context(), schedule.Order{From: demoDay, Days: 21, Seed: 1, Iterations: 10_000}))
	must(t, p.Planner.Work(t.Context(), order.ID))
	want[string](t)(p.Planner.Accept(t.Context(), order.ID))
	for _, v := range ahead(t, p) {
		if v.State == booking.Pencilled && v.Part == 1 { // the others follow
			must(t, p.Desk.Fix(t.Context(), v.ID, v.Version))
		}
	}
	must(t, d.Close())
	return want[[]byte](t)(os.ReadFile(d.DSN()))
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// again is the program on a fresh copy of the season.
func (s season) again(t *testing.T) demo.Parts {
	t.Helper()
	path := filepath.Join(t.TempDir(), "season.db")
	must(t, os.WriteFile(path, s, 0o600))
	d := want[*db.DB](t)(db.Open(t.Context(), path))
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	return parts(t, d)
}

// ahead are the visits that have not begun.
func ahead(t *testing.T, p demo.Parts) []booking.Visit {
	t.Helper()
	return want[[]booking.Visit](t)(p.Store.Visits(t.Context(), booking.VisitQuery{
		From: demoDay, States: []booking.VisitState{booking.Pencilled, booking.Fixed},
	}))
}

// unpromise makes every visit ahead one that nobody was told of.
func unpromise(t *testing.T, p demo.Parts) {
	t.Helper()
	for _, v := range ahead(t, p) {
		if v.State == booking.Fixed && v.Part == 1 {
			must(t, p.Desk.Unfix(t.Context(), v.ID, v.Version))
		}
	}
	for _, b := range want[[]booking.Booking](t)(p.Store.Bookings(t.Context(), booking.BookingQuery{States: []booking.State{booking.Offered}})) {
		b.State = booking.Asked
		must(t, p.Store.ChangeBooking(t.Context(), booking.BookingChange{Booking: &b, Verb: "took back the offer of"}))
	}
}

// offDays are the rigs that stay at home or start late, by day.
func offDays(t *testing.T, p demo.Parts, from civil.Date, days int) map[booking.ID]map[civil.Date]booking.DayOff {
	t.Helper()
	off := map[booking.ID]map[civil.Date]booking.DayOff{}
	for _, d := range want[[]booking.DayOff](t)(p.Store.DaysOff(t.Context(), from, from.AddDays(days-1))) {
		if off[d.RigID] == nil {
			off[d.RigID] = map[civil.Date]booking.DayOff{}
		}
		off[d.RigID][d.Date] = d
	}
	return off
}
