package jobs_test

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/jobs"

	"github.com/google/go-cmp/cmp"
)

// The expected numbers are worked out by hand from wholeVisit.
func TestFoldWholeVisit(t *testing.T) {
	d := jobs.Fold(wholeVisit())
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"set-up", d.SettingUp(), 20 * time.Minute},
		{"work without the pause", d.Worked(morning.Add(5 * time.Hour)), 2 * time.Hour},
		{"pack-down", d.PackingDown(), 20 * time.Minute},
		{"on site", d.OnSite(), 210 * time.Minute},
		{"head", d.Head(), 251},
		{"ewes", d.MobHead(ewes), 239},
		{"ewes through the left gate", d.ThroughGate(ewes, jobs.LeftGate), 39},
		{"rams drenched", d.Done(rams, "drench"), 12},
		{"rams trimmed", d.Done(rams, "foot-trim"), 0},
		{"an hour", d.PerHour(morning.Add(5 * time.Hour)), 125.5}, // 251 in 2 h
		{"running", d.Running(), false},
		{"signature", d.Signature.Name, "Orla Finch"},
		{"signed at", d.SignedAt, morning.Add(190 * time.Minute)},
		{"people", d.People, []booking.ID{ann}},
	} {
		if !cmp.Equal(c.got, c.want) {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
}

func TestFoldTimes(t *testing.T) {
	type step struct {
		minute int
		kind   jobs.Kind
	}
	for _, c := range []struct {
		name    string
		steps   []step
		now     int
		worked  int // minutes
		running bool
	}{
		{"nothing", nil, 60, 0, false},
		{"only arrived", []step{{0, jobs.Arrived}}, 60, 0, false},
		{"still running", []step{{10, jobs.Started}}, 60, 50, true},
		{"paused", []step{{10, jobs.Started}, {30, jobs.Paused}}, 60, 20, false},
		{"two phones press the same", []step{{10, jobs.Started}, {11, jobs.Started}, {30, jobs.Paused}, {31, jobs.Paused}, {40, jobs.Resumed}, {41, jobs.Resumed}, {50, jobs.Finished}, {51, jobs.Finished}}, 60, 30, false},
		{"finished, then more came", []step{{10, jobs.Started}, {20, jobs.Finished}, {40, jobs.Started}}, 60, 30, true},
		{"resumed without a start", []step{{10, jobs.Resumed}, {20, jobs.Finished}}, 60, 10, false},
		{"finished without a start", []step{{20, jobs.Finished}}, 60, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			var a at
			var events []jobs.Event
			for _, s := range c.steps {
				events = append(events, a.event(s.minute, s.kind, nil))
			}
			d := jobs.Fold(events)
			if got := d.Worked(morning.Add(time.Duration(c.now) * time.Minute)); got != time.Duration(c.worked)*time.Minute {
				t.Errorf("worked %v, want %d minutes", got, c.worked)
			}
			if d.Running() != c.running {
				t.Errorf("running %v, want %v", d.Running(), c.running)
			}
			if d.Running() && !d.Finished.IsZero() {
				t.Error("finished although it is running")
			}
		})
	}
}

func TestNoPaceInTheFirstMinute(t *testing.T) {
	var a at
	d := jobs.Fold([]jobs.Event{a.event(0, jobs.Started, nil), a.event(0, jobs.Counted, count(ewes, 3, "", "drench"))})
	if got := d.PerHour(morning.Add(59 * time.Second)); got != 0 {
		t.Errorf("pace after 59 seconds %v, want none", got)
	}
	if got := d.PerHour(morning.Add(2 * time.Minute)); got != 90 {
		t.Errorf("pace after 2 minutes %v, want 90 (3 head in 1/30 h)", got)
	}
}

func TestStruckEvents(t *testing.T) {
	var a at
	counted := a.event(10, jobs.Counted, count(ewes, 10, "", "drench"))
	wrong := a.event(11, jobs.Counted, count(ewes, 100, "", "drench"))
	strike := a.event(12, jobs.StruckOut, jobs.Strike{Event: wrong.ID})
	strikeTheStrike := a.event(13, jobs.StruckOut, jobs.Strike{Event: strike.ID})
	for _, order := range [][]jobs.Event{
		{counted, wrong, strike}, {strike, wrong, counted}, {wrong, strike, counted, wrong},
		{counted, wrong, strike, strikeTheStrike}, {strikeTheStrike, strike, counted, wrong},
	} {
		if got := jobs.Fold(order).Done(ewes, "drench"); got != 10 {
			t.Errorf("%d drenched, want 10: the struck count stays out", got)
		}
	}
}

func TestTotalsNeverBelowZero(t *testing.T) {
	var a at
	d := jobs.Fold([]jobs.Event{
		a.event(1, jobs.Counted, count(ewes, 2, "", "drench")),
		a.event(2, jobs.Counted, count(ewes, -5, "", "drench")),
	})
	if d.Head() != 0 || len(d.Tallies) != 0 {
		t.Errorf("tallies %v, want none", d.Tallies)
	}
	if want := []jobs.Tally{{Mob: ewes, Service: "drench", Head: -3}}; !cmp.Equal(d.Below, want) {
		t.Errorf("below %v, want %v", d.Below, want)
	}
	d = jobs.Fold([]jobs.Event{ // the taking back arrives with an earlier clock
		a.event(1, jobs.Counted, count(ewes, -1, "", "drench")),
		a.event(2, jobs.Counted, count(ewes, 4, "", "drench")),
	})
	if d.Head() != 3 {
		t.Errorf("head %d, want 3: sums may pass below zero on the way", d.Head())
	}
}
