package view

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"drawbar/booking/pace"

	"pgregory.net/rapid"
)

// Minutes as a person would add them up: 25 + 150 + 10 + 10 + 15 + 30 = 240.
func longVisit() pace.Estimate {
	part := func(minutes float64) pace.Part { return pace.Part{Minutes: minutes} }
	return pace.Estimate{
		Parts:   pace.Parts{SetUp: part(25), Work: part(150.4), Changes: part(9.6), Breaks: part(10), PackDown: part(15), WashDown: part(30)},
		Total:   pace.Range{Median: 230 * time.Minute, P90: 300 * time.Minute},
		Drivers: []string{"Setting up takes about 25 min with one person."},
	}
}

func TestLength(t *testing.T) {
	l := NewLength(longVisit())
	var says []string
	for _, p := range l.Parts {
		says = append(says, fmt.Sprint(p.Name, " ", Duration(p.Time), " at ", p.X, " for ", p.W))
	}
	want := []string{
		"Set-up 25 min at 0.00% for 8.33%", "Work 2 h 30 at 8.33% for 50.00%", "Wall and gate changes 10 min at 58.33% for 3.33%",
		"Breaks 10 min at 61.67% for 3.33%", "Pack-down 15 min at 65.00% for 5.00%", "Wash-down 30 min at 70.00% for 10.00%",
	}
	if strings.Join(says, "\n") != strings.Join(want, "\n") {
		t.Errorf("parts\n%s\nwant\n%s", strings.Join(says, "\n"), strings.Join(want, "\n"))
	}
	if l.Words != "about 3 h 50, could be 5 h" || l.Average != 4*time.Hour || l.Fade != (Stretch{"80.00%", "20.00%"}) || len(l.Drivers) != 1 {
		t.Errorf("%+v", l)
	}
}

func TestLengthLeavesOutWhatTakesNoTime(t *testing.T) {
	e := longVisit()
	e.Parts.Changes, e.Parts.Breaks, e.Parts.WashDown = pace.Part{}, pace.Part{}, pace.Part{Minutes: 0.4}
	for _, p := range NewLength(e).Parts {
		if p.Time == 0 || p.Name == "Breaks" {
			t.Errorf("%s is shown with %s", p.Name, p.Time)
		}
	}
	if l := NewLength(pace.Estimate{}); len(l.Parts) != 0 || l.Average != 0 {
		t.Errorf("nothing gives %+v", l)
	}
}

// Kinds that stand side by side in a bar differ by more than their colour.
func TestKindsDifferByShape(t *testing.T) {
	seen := map[string]string{}
	for _, p := range NewLength(longVisit()).Parts {
		if kind, found := seen[p.Fill()]; found && kind != p.Kind {
			t.Errorf("%s and %s look alike", kind, p.Kind)
		}
		seen[p.Fill()] = p.Kind
	}
}

// Bars follow each other without gap or overlap and fill the drawing.
func TestBarsFillTheDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		part := func(name string) pace.Part { return pace.Part{Minutes: rapid.Float64Range(0, 900).Draw(t, name)} }
		e := pace.Estimate{Parts: pace.Parts{SetUp: part("set-up"), Work: part("work"), Breaks: part("breaks"), WashDown: part("wash")}}
		e.Total.P90 = time.Duration(rapid.IntRange(0, 3000).Draw(t, "late")) * time.Minute
		l, at := NewLength(e), 0.0
		for _, s := range append(stretches(l), l.Fade) {
			var x, w float64
			if _, err := fmt.Sscanf(s.X+" "+s.W, "%f%% %f%%", &x, &w); err != nil {
				t.Fatal(err)
			}
			if d := x - at; d < -0.05 || d > 0.05 || w < 0 {
				t.Fatalf("a bar begins at %s, the last ended at %.2f", s.X, at)
			}
			at = x + w
		}
		if len(l.Parts) > 0 && (at < 99.9 || at > 100.1) {
			t.Fatalf("the bars end at %.2f", at)
		}
	})
}

func stretches(l Length) []Stretch {
	all := make([]Stretch, len(l.Parts))
	for i, p := range l.Parts {
		all[i] = p.Stretch
	}
	return all
}
