package pace

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func estimate(t testing.TB, j Job) Estimate {
	t.Helper()
	e, err := DefaultModel().Estimate(j)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// drawJob draws a sensible job through a seed, so that rapid can repeat it.
func drawJob(t *rapid.T) Job {
	return randomJob(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 4)))
}

func TestPartsAddUpAndRangesAreOrdered(t *testing.T) {
	m := DefaultModel()
	rapid.Check(t, func(t *rapid.T) {
		j := drawJob(t)
		e, err := m.Estimate(j)
		if err != nil {
			t.Fatal(err)
		}
		p := e.Parts
		sum := p.SetUp.Minutes + p.Work.Minutes + p.Changes.Minutes + p.Breaks.Minutes + p.PackDown.Minutes + p.WashDown.Minutes
		if math.Abs(sum-e.Total.Mean.Minutes()) > 0.1 {
			t.Fatalf("parts add up to %g min, the mean is %v", sum, e.Total.Mean)
		}
		for _, r := range []Range{e.Total, e.Working} {
			if !(0 < r.Median && r.Median < r.P80 && r.P80 < r.P90) {
				t.Fatalf("range out of order: %+v", r)
			}
		}
		if e.Working.P90 > e.Total.P90 || len(e.Drivers) < 1 || len(e.Drivers) > maxDrivers || len(e.Mobs) != len(j.Mobs) {
			t.Fatalf("odd estimate %+v", e)
		}
		if again, _ := m.Estimate(j); again.Total != e.Total {
			t.Fatal("the same job gives another estimate")
		}
	})
}

// What must make a visit longer does, and what helps never hurts.
func TestEstimateMovesTheRightWay(t *testing.T) {
	m := DefaultModel()
	total := func(t *rapid.T, j Job) float64 {
		e, err := m.Estimate(j)
		if err != nil {
			t.Fatal(err)
		}
		// wall changes are left out: horns can make two mobs fit one setting
		return e.Parts.SetUp.Minutes + e.Parts.Work.Minutes + e.Parts.PackDown.Minutes + e.Parts.WashDown.Minutes
	}
	rapid.Check(t, func(t *rapid.T) {
		j := drawJob(t)
		j.Mobs[0].Lots, j.Mobs[0].AsTheyCome = nil, false
		before := total(t, j)
		for _, c := range []struct {
			name   string
			slower bool
			change func(*Job)
		}{
			{"ten more head", true, func(j *Job) { j.Mobs[0].Head += 10 }},
			{"horns", true, func(j *Job) { j.Mobs[0].Horned = true }},
			{"full wool", true, func(j *Job) { j.Mobs[0].FullWool = true }},
			{"new to the crate", true, func(j *Job) { j.Mobs[0].NewToCrate = true }},
			{"soft ground", true, func(j *Job) { j.Setting.Surface = Soft }},
			{"infected", true, func(j *Job) { j.Setting.Hygiene = 3 }},
			{"a pusher", false, func(j *Job) { j.Crew.Pusher = true }},
			{"a helper", false, func(j *Job) { j.Setting.Helper = true }},
			{"one more person", false, func(j *Job) { j.Crew.People++ }},
			{"power and lights", false, func(j *Job) { j.Setting.Power, j.Setting.Lights = true, true }},
		} {
			after := j
			after.Mobs = slices.Clone(j.Mobs)
			c.change(&after)
			diff := total(t, after) - before
			if c.slower && diff < -1e-3 || !c.slower && diff > 1e-3 {
				t.Fatalf("%s changes the total by %+.2f min", c.name, diff)
			}
		}
	})
}

// Front and back overlap only with hands for both.
func TestFrontAndBackOverlapOnlyWithHandsForBoth(t *testing.T) {
	both := func(people int) float64 {
		return estimate(t, changed(func(j *Job) {
			j.Mobs[0].Services, j.Crew = []string{EarTag, Scan}, Crew{people, true}
		})).Mobs[0].SecondsPerHead
	}
	if one, two := both(1), both(2); one < 32+22 || two > one-15 || two < 32 {
		t.Errorf("tag 32 s at the front and scan 22 s at the back: %.1f s alone, %.1f s with two", one, two)
	}
}

// Work above 60 % of the time, getting animals to it about 40 %, is published
// for handling without a race to spare (levy-body handling manual: up to 40 % of
// a procedure is moving sheep). Quick work done alone lies near it.
func TestShareOfPushingUpNearPublished(t *testing.T) {
	m := DefaultModel()
	j := plain()
	w := m.lineWork(&j, &m.start)
	if share := w.total.lean[keyPush]; share < 0.25 || share > 0.45 {
		t.Errorf("pushing up is %.0f %% of drenching alone, published up to 40 %%", 100*share)
	}
}

func TestDriversSayWhatMatters(t *testing.T) {
	for _, c := range []struct {
		word   string
		change func(*Job)
	}{
		{"Foot trimming takes", func(j *Job) { j.Mobs[0].Services = []string{FootTrim, Drench} }},
		{"Nobody pushes up", func(j *Job) {}},
		{"Setting up takes", func(j *Job) { j.Mobs[0].Head = 5 }},
		{"new to the crate", func(j *Job) { j.Mobs[0].Head, j.Mobs[0].NewToCrate = 20, true; j.Mobs[0].Services = []string{FootTrim} }},
		{"mixed sizes", func(j *Job) {
			j.Mobs[0].Lots, j.Mobs[0].AsTheyCome = []Lot{{200, 2}, {40, 6}}, true
			j.Mobs[0].Services = []string{Crutch}
		}},
		{"wash-down", func(j *Job) { j.Mobs[0].Head, j.Setting.Hygiene = 10, 3 }},
	} {
		if all := strings.Join(estimate(t, changed(c.change)).Drivers, " "); !strings.Contains(all, c.word) {
			t.Errorf("no %q in %q", c.word, all)
		}
	}
}
