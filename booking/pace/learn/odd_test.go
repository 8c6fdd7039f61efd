package learn

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"drawbar/booking/pace"
)

// season of 300 dockets at 40 farms.
func someDockets(seed uint64) (*truth, []Docket) {
	w := newTruth(seed, 40)
	dockets := make([]Docket, 300)
	for i := range dockets {
		dockets[i], _ = w.visit(i)
	}
	return w, dockets
}

// at has the first visits of a new farm behind it, at a pace of its own.
func at(w *truth, farm string, visits int, factor float64) []Docket {
	var out []Docket
	for i := range visits {
		d, _ := w.visit(1000 + i)
		b, _ := w.model.Basis(d.Job, w.keys)
		d.Job.FarmID = farm
		d.Work = b.Work*factor + b.Changes
		out = append(out, d)
	}
	return out
}

func medianAt(t *testing.T, w *truth, farm string, dockets []Docket) (float64, Result) {
	t.Helper()
	r, err := Learn(w.model.Priors(), dockets)
	if err != nil {
		t.Fatal(err)
	}
	m, err := pace.NewModel(w.model.Priors(), r.Learned)
	if err != nil {
		t.Fatal(err)
	}
	job := pace.Job{
		Mobs:   []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 200, Services: []string{pace.Drench, pace.FootCheck}}},
		Rig:    pace.Rig{SideTilt: true},
		Crew:   pace.Crew{People: 1, Pusher: true},
		FarmID: farm,
	}
	e, err := m.Estimate(job)
	if err != nil {
		t.Fatal(err)
	}
	return e.Total.Median.Minutes(), r
}

// One wild docket (a paused timer, a wrong count) moves a farm's estimate by
// less than a tenth and is named, however many visits the farm has had.
func TestOneWildDocketHardlyMatters(t *testing.T) {
	for seed := range uint64(3) {
		w, dockets := someDockets(seed)
		for _, visits := range []int{0, 1, 2, 5} {
			dockets := append(dockets[:300:300], at(w, "new farm", visits, 1.1)...)
			before, _ := medianAt(t, w, "new farm", dockets)
			for _, factor := range []float64{0.1, 0.25, 4, 10, 60} {
				wild := at(w, "new farm", 1, factor)[0]
				wild.ID = "wild"
				after, r := medianAt(t, w, "new farm", append(dockets[:len(dockets):len(dockets)], wild))
				if off := math.Abs(after/before - 1); off > 0.1 {
					t.Errorf("seed %d, %d visits: a docket off by %g moves the estimate by %.0f %%", seed, visits, factor, 100*off)
				}
				if !named(r, "wild") {
					t.Errorf("seed %d, %d visits: a docket off by %g is not named", seed, visits, factor)
				}
			}
		}
	}
}

// named as odd, or as unusable where the time is longer than any visit.
func named(r Result, id string) bool {
	for _, u := range r.Unused {
		if u.ID == id {
			return true
		}
	}
	for _, o := range r.Odd {
		if o.ID == id && o.What == Work {
			return true
		}
	}
	return false
}

// Five visits that agree do move a farm, most of the way, and none is called
// odd although one alone would look it.
func TestFiveVisitsMatter(t *testing.T) {
	w, dockets := someDockets(7)
	first, _ := medianAt(t, w, "slow farm", dockets)
	five, r := medianAt(t, w, "slow farm", append(dockets, at(w, "slow farm", 5, 1.8)...))
	if five < 1.3*first {
		t.Errorf("five visits at 1.8 times the work move %.0f min to %.0f only", first, five)
	}
	for _, o := range r.Odd {
		if strings.HasPrefix(o.ID, "100") {
			t.Errorf("called odd: %s", o.Sentence)
		}
	}
	if n := r.Learned.Work.Farm["slow farm"].Visits; n != 5 {
		t.Errorf("the farm rests on %d visits, want 5", n)
	}
}

func TestFewSoundDocketsAreNamed(t *testing.T) {
	odd := 0
	for seed := range uint64(10) {
		w, dockets := someDockets(seed)
		_, r := medianAt(t, w, "", dockets)
		odd += len(r.Odd)
	}
	if odd > 18 { // 2 in a thousand of 9000 times, none of them wrong
		t.Errorf("%d of 9000 sound times are named", odd)
	}
}

func TestOddDocketsAreExplained(t *testing.T) {
	long := newOdd("a", Work, 540, 130)
	if long.Sentence != "The work took 9 h where about 2 h 10 was expected. Was the clock left running, or the count too low?" {
		t.Errorf("%q", long.Sentence)
	}
	if short := newOdd("a", SetUp, 3, 40); !strings.Contains(short.Sentence, "set-up took 3 min where about 40 min") || !strings.Contains(short.Sentence, "paused") {
		t.Errorf("%q", short.Sentence)
	}
}

func TestUnusableDocketsAreNamedNotDropped(t *testing.T) {
	w, dockets := someDockets(3)
	dockets = dockets[:20]
	dockets[3].Work = math.NaN()
	dockets[4].SetUp = -1
	dockets[5].Job.Mobs = nil
	dockets[6].Work = 1e9
	r, err := Learn(w.model.Priors(), dockets)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, u := range r.Unused {
		got += u.ID + " " + u.Err.(*pace.Error).Field + ", "
	}
	if got != "3 work, 4 set_up, 5 mobs, 6 work, " {
		t.Errorf("unused: %s", got)
	}
}

func TestSameDocketsSameResult(t *testing.T) {
	w, dockets := someDockets(5)
	one, _ := medianAt(t, w, "farm 3", dockets)
	two, _ := medianAt(t, w, "farm 3", dockets)
	if one != two {
		t.Errorf("%g and %g", one, two)
	}
}

// Without dockets the learned model says what the base values say.
func TestNothingLearnedChangesNothing(t *testing.T) {
	w, _ := someDockets(1)
	r, err := Learn(w.model.Priors(), nil)
	if err != nil {
		t.Fatal(err)
	}
	m, _ := pace.NewModel(w.model.Priors(), r.Learned)
	for i := range 20 {
		d, _ := w.visit(i)
		want, _ := w.model.Estimate(d.Job)
		got, _ := m.Estimate(d.Job)
		if a, b := got.Total.Mean.Minutes(), want.Total.Mean.Minutes(); math.Abs(a/b-1) > 0.01 {
			t.Errorf("%s: mean %.1f min, want %.1f", fmt.Sprint(d.Job.Mobs[0].Services), a, b)
		}
		if a, b := got.Total.P90.Minutes(), want.Total.P90.Minutes(); math.Abs(a/b-1) > 0.03 {
			t.Errorf("%s: 90 %% time %.1f min, want %.1f", fmt.Sprint(d.Job.Mobs[0].Services), a, b)
		}
	}
}
