package pace

import (
	"math"
	"strings"
	"testing"
)

// taught is a model that knows one farm and one crew.
func taught(t *testing.T, farm FarmEffect) *Model {
	t.Helper()
	n := keyCount + 1
	e := Effects{
		Mean: make([]float64, n), Crew: map[string]int{"Ann": keyCount}, Farm: map[string]FarmEffect{"Hob Lane": farm},
		NewFarm: 0.04, NewCrew: 0.01, Day: 0.0225,
	}
	for i := range n {
		e.Cov = append(e.Cov, make([]float64, n))
		e.Cov[i][i] = 0.001
	}
	m, err := NewModel(DefaultPriors(), &Learned{Work: e})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func slowFarm() FarmEffect {
	return FarmEffect{Mean: math.Log(1.3) - 0.02, Var: 0.004, Cov: make([]float64, keyCount+1), Visits: 6}
}

func TestFarmPaceInWords(t *testing.T) {
	for _, c := range []struct {
		pace FarmPace
		want string
	}{
		{FarmPace{1.2, 1.1, 1.3, 6}, "Work here takes about 20 % longer than elsewhere, from 6 visits."},
		{FarmPace{0.8, 0.7, 0.9, 3}, "Work here takes about 20 % less time than elsewhere, from 3 visits."},
		{FarmPace{1.1, 0.9, 1.3, 1}, "Work here may take 10 % longer than elsewhere; one visit cannot settle it yet."},
		{FarmPace{1.01, 0.9, 1.1, 9}, "Work here takes about as long as elsewhere, from 9 visits."},
	} {
		if got := c.pace.Words(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestDoubtAboutAFarmInWords(t *testing.T) {
	want := "Four times in five the truth lies between 105 % and 138 % of the time elsewhere."
	if got := (FarmPace{Factor: 1.2, Low: 1.05, High: 1.38, Visits: 6}).Doubt(); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestFarmIsKnownOnlyFromDockets(t *testing.T) {
	m := taught(t, slowFarm())
	p, ok := m.Farm("Hob Lane")
	if !ok || math.Abs(p.Factor-1.3) > 1e-9 || !(p.Low < p.Factor && p.Factor < p.High) || !strings.Contains(p.Words(), "30 % longer") {
		t.Errorf("%+v %v", p, ok)
	}
	if _, ok := m.Farm("elsewhere"); ok {
		t.Error("a farm never seen is known")
	}
	if _, ok := DefaultModel().Farm("Hob Lane"); ok {
		t.Error("a model that learned nothing knows a farm")
	}
}

// What is known of a farm moves its estimate and narrows it; a stranger keeps
// the whole spread of strangers.
func TestLearnedFarmMovesAndNarrows(t *testing.T) {
	m := taught(t, slowFarm())
	at := func(farm, crew string) Part {
		e, err := m.Estimate(changed(func(j *Job) { j.FarmID, j.CrewID = farm, crew }))
		if err != nil {
			t.Fatal(err)
		}
		return e.Parts.Work
	}
	known, stranger := at("Hob Lane", "Ann"), at("", "")
	if r := known.Minutes / stranger.Minutes; r < 1.2 || r > 1.4 {
		t.Errorf("a farm that is 30 %% slower takes %.2f times as long", r)
	}
	if known.CV >= stranger.CV {
		t.Errorf("spread %.2f at a known farm, %.2f at a stranger's", known.CV, stranger.CV)
	}
}
