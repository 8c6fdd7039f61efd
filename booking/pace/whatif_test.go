package pace

import (
	"slices"
	"strings"
	"testing"
	"time"
)

func whatIf(t *testing.T, j Job) map[string]Alternative {
	t.Helper()
	all, err := DefaultModel().WhatIf(j)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSortedFunc(all, func(a, b Alternative) int { return int(b.Saves - a.Saves) }) {
		t.Error("alternatives are not in order of saving")
	}
	out := map[string]Alternative{}
	for _, a := range all {
		out[a.Words] = a
	}
	return out
}

func TestWhatIf(t *testing.T) {
	j := changed(func(j *Job) {
		j.Mobs[0].Services = []string{Drench, FootTrim}
		j.Mobs[0].Lots, j.Mobs[0].AsTheyCome = []Lot{{200, 2}, {40, 6}}, true
	})
	all := whatIf(t, j)
	for _, words := range []string{
		"With somebody to push up", "With a crew of 2", "With the ewes drafted by size beforehand", "Without drenching", "Without foot trimming",
	} {
		if a, ok := all[words]; !ok || a.Saves <= 0 {
			t.Errorf("%q saves %v", words, a.Saves)
		}
	}
	if len(all) != 5 {
		t.Errorf("%d alternatives, want 5", len(all))
	}
	if slices.Contains(all["Without foot trimming"].Job.Mobs[0].Services, FootTrim) || len(j.Mobs[0].Services) != 2 {
		t.Error("the alternative keeps the service, or the job has lost it")
	}
}

// A pusher who comes anyway can be tried away: one person then walks.
func TestWithoutThePusher(t *testing.T) {
	all := whatIf(t, changed(func(j *Job) { j.Crew = Crew{1, true} }))
	if a, ok := all["Without anybody to push up"]; !ok || a.Saves >= 0 {
		t.Errorf("without the pusher: %v", a.Saves)
	}
	if _, ok := all["With somebody to push up"]; ok {
		t.Error("a second pusher is proposed")
	}
}

// The tested differences agree with estimating both jobs, and a service that is
// all of a mob's work cannot be left out.
func TestWhatIfKeepsJobsPossible(t *testing.T) {
	j := changed(func(j *Job) { j.Crew = Crew{3, true} })
	if all := whatIf(t, j); len(all) != 0 {
		t.Errorf("a full crew with one service has alternatives %v", all)
	}
	if _, err := DefaultModel().WhatIf(Job{}); err == nil {
		t.Error("no job, no error")
	}
}

func TestAlternativeInWords(t *testing.T) {
	for _, c := range []struct {
		saves time.Duration
		want  string
	}{
		{40 * time.Minute, "X: about 40 min less."}, {-65 * time.Minute, "X: about 1 h 05 more."}, {5 * time.Second, "X: no difference."},
	} {
		if got := (Alternative{Words: "X", Saves: c.saves}).Sentence(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if s, _ := ServiceByCode(PourOn); !strings.HasPrefix(s.lower(), "pour") {
		t.Error(s.lower())
	}
}
