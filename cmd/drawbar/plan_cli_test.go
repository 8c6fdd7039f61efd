package main

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/migrations/dbtest"

	"cloud.google.com/go/civil"
)

// typed runs a command as somebody types it.
func typed(t *testing.T, args ...string) (out, progress string, err error) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	err = run(t.Context(), args, streams{strings.NewReader(""), &stdout, &stderr})
	return stdout.String(), stderr.String(), err
}

// The command line plans like the board: nothing moves until it is accepted,
// and then all at once.
func TestPlanCommand(t *testing.T) {
	d := dbtest.SQLite(t)
	loadedDemo(t, d)
	app := openApp(t, d, t.TempDir())
	before := liveVisits(t, app)
	from := civil.DateOf(time.Now()).AddDays(7).String()
	flags := []string{"plan", "--database", d.DSN(), "--mail", t.TempDir(), "--from", from, "--days", "7", "--seconds", "0", "--iterations", "300"}

	out, progress, err := typed(t, flags...)
	if err != nil {
		t.Fatal(err)
	}
	for _, words := range []string{"planned", "cost of the rounds", "nights away", "Nothing was moved. Accept it at http"} {
		if !strings.Contains(out, words) {
			t.Errorf("the plan does not say %q:\n%s", words, out)
		}
	}
	if !strings.Contains(progress, "visits placed") {
		t.Errorf("the progress says %q", progress)
	}
	if after := liveVisits(t, app); !maps.Equal(after, before) {
		t.Errorf("visits of bookings %v, then %v", before, after)
	}

	out, _, err = typed(t, append(flags, "--json", "--accept")...)
	if err != nil {
		t.Fatal(err)
	}
	var plan planJSON
	if err := json.Unmarshal([]byte(out), &plan); err != nil {
		t.Fatalf("%v in %s", err, out)
	}
	for _, m := range plan.Moves {
		for _, want := range m.New {
			visits, err := app.Store.Visits(t.Context(), booking.VisitQuery{BookingID: m.Booking, States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
			check(t, err)
			if len(visits) != len(m.New) || !visits[want.Part-1].Arrive.Equal(want.Arrive) {
				t.Errorf("%s: accepted %+v, there are %+v", m.Farm, m.New, visits)
			}
		}
	}
	if len(plan.Moves) == 0 || !plan.Accepted || plan.After.Visits <= plan.Before.Visits {
		t.Errorf("%d moves, accepted %v, %d visits of %d", len(plan.Moves), plan.Accepted, plan.Before.Visits, plan.After.Visits)
	}
}

// What is wrong with the flags is said by their names.
func TestPlanCommandNamesTheFlag(t *testing.T) {
	d := dbtest.SQLite(t)
	loadedDemo(t, d)
	good := civil.DateOf(time.Now()).AddDays(7).String()
	for flag, args := range map[string][]string{
		"--from":       {"--from", "soon"},
		"--days":       {"--from", good, "--days", "0"},
		"--seconds":    {"--from", good, "--seconds", "-3"},
		"--iterations": {"--from", good, "--iterations", "-3"},
	} {
		_, _, err := typed(t, append([]string{"plan", "--database", d.DSN(), "--mail", t.TempDir()}, args...)...)
		if err == nil || !strings.Contains(says(err), flag) {
			t.Errorf("%v gives %v", args, err)
		}
	}
	if _, _, err := typed(t, "plan", "--database", d.DSN(), "--from", "2020-01-01"); err == nil || !strings.Contains(says(err), "--from") {
		t.Errorf("days that are over give %v", err)
	}
	if _, _, err := typed(t, "plan", "--database", d.DSN()); err == nil || !strings.Contains(says(err), "--from") {
		t.Errorf("no day gives %v", err)
	}
}

// interrupting ends a context once a command has shown something.
type interrupting struct {
	bytes.Buffer
	seen string
	end  context.CancelFunc
}

func (w *interrupting) Write(p []byte) (int, error) {
	n, err := w.Buffer.Write(p)
	if strings.Contains(w.String(), w.seen) {
		w.end()
	}
	return n, err
}

// An interrupt ends the search, keeps the best plan so far and prints it.
func TestInterruptKeepsTheBest(t *testing.T) {
	d := dbtest.SQLite(t)
	loadedDemo(t, d)
	app := openApp(t, d, t.TempDir())
	ctx, end := context.WithCancel(t.Context())
	progress := &interrupting{seen: "visits placed", end: end}
	var out bytes.Buffer
	begun := time.Now()
	err := run(ctx, []string{
		"plan", "--database", d.DSN(), "--mail", t.TempDir(), "--from", civil.DateOf(time.Now()).AddDays(7).String(), "--days", "14", "--seconds", "600", "--json",
	}, streams{strings.NewReader(""), &out, progress})
	check(t, err)
	var plan planJSON
	check(t, json.Unmarshal(out.Bytes(), &plan))
	if len(plan.Moves) == 0 || plan.After.Visits <= plan.Before.Visits {
		t.Errorf("kept %d moves, %d visits instead of %d", len(plan.Moves), plan.After.Visits, plan.Before.Visits)
	}
	if took := time.Since(begun); took > 5*time.Minute {
		t.Errorf("it looked for %s", took)
	}
	stored, err := app.Store.Planning(t.Context(), plan.ID)
	check(t, err)
	if stored.State != booking.PlanFound {
		t.Errorf("the plan is %s", stored.State)
	}
}
