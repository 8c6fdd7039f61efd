package kit

import (
	"math"
	"strings"
	"testing"

	"drawbar/booking/pace"
)

func drenched(class pace.Class, species pace.Species, head int) pace.Job {
	return pace.Job{
		Mobs: []pace.Mob{{Species: species, Class: class, Head: head, Services: []string{pace.Drench}}},
		Crew: pace.Crew{People: 1},
	}
}

// Dose and strength of four drenches as the chart for sheep of the American
// Consortium for Small Ruminant Parasite Control gives them; the volume for
// 70 kg is weight × dose ÷ strength.
func TestDosesOfAPublishedChart(t *testing.T) {
	for _, c := range []struct {
		name             string
		mgPerKg, mgPerML float64
		want             float64
	}{
		{"levamisole", 8, 49.6, 11.29},
		{"albendazole", 7.5, 113.6, 4.62},
		{"ivermectin", 0.2, 0.8, 17.50},
		{"moxidectin", 0.2, 1, 14.00},
	} {
		p := Product{MgPerKg: c.mgPerKg, MgPerML: c.mgPerML}
		if got := p.DoseML(70); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s: %.3f mL at 70 kg, want %.2f", c.name, got, c.want)
		}
	}
}

// Volumes the same body's chart for goats prints for 25 lb (11.34 kg), where the
// dose per kg is printed too.
func TestDosesOfAPublishedGoatChart(t *testing.T) {
	for _, c := range []struct {
		name             string
		mgPerKg, mgPerML float64
		printed, within  float64 // as rounded on the chart
	}{
		{"ivermectin", 0.4, 0.8, 6, 0.5},
		{"fenbendazole", 10, 100, 1.1, 0.05},
		{"moxidectin by mouth", 0.3, 1, 3.4, 0.05},
	} {
		p := Product{MgPerKg: c.mgPerKg, MgPerML: c.mgPerML}
		if got := p.DoseML(11.34); math.Abs(got-c.printed) > c.within {
			t.Errorf("%s: %.2f mL, the chart has %g", c.name, got, c.printed)
		}
	}
}

// 100 ewes to 70 kg and 60 to 80 kg at 0.2 mg/kg and 0.8 mg/mL: 17.5 and 20 mL a
// head, 1750 + 1200 mL, and 5 % over (common practice): 3097.5 mL.
func TestEachClassIsDosedToItsHeaviest(t *testing.T) {
	in := Input{
		Job:      drenched(pace.Ewe, pace.Sheep, 160),
		Products: []Product{{Name: "white drench", Service: pace.Drench, MgPerKg: 0.2, MgPerML: 0.8, Packs: []int{1000, 2500}}},
		Weights:  []WeightClass{{0, 100, 70}, {0, 60, 80}},
	}
	item := find(t, in, "white drench")
	if item.Amount != 3098 || item.Unit != "mL" {
		t.Errorf("%g %s, want 3098 mL", item.Amount, item.Unit)
	}
	want := "100 head to 70 kg × 17.50 mL; 60 head to 80 kg × 20.00 mL; 5 % over"
	if item.Reckoned != want {
		t.Errorf("reckoned %q, want %q", item.Reckoned, want)
	}
	if strings.Contains(item.Caution, "guess") {
		t.Errorf("weighed animals are called a guess: %q", item.Caution)
	}
	// 3 × 1000 is too little; 1000 + 2500 leaves least over
	if got := item.Packs; len(got) != 2 || got[0] != (Pack{2500, 1}) || got[1] != (Pack{1000, 1}) {
		t.Errorf("packs %v", got)
	}
}

func TestUnweighedMobIsAGuess(t *testing.T) {
	in := Input{
		Job:      drenched(pace.Lamb, pace.Sheep, 10),
		Products: []Product{{Name: "x", Service: pace.Drench, MgPerKg: 1, MgPerML: 1, Packs: []int{100}}},
	}
	item := find(t, in, "x")
	if !strings.HasPrefix(item.Caution, "The heaviest weight is a guess: weigh several of the biggest") {
		t.Errorf("caution %q", item.Caution)
	}
	if want := math.Ceil(10 * guessedKg[pace.Lamb] * 1.05); item.Amount != want {
		t.Errorf("%g mL, want %g", item.Amount, want)
	}
}

// 2 mL for every head however heavy: 100 head and 5 % over are 210 mL, not 211
// for the last bit of a float.
func TestFixedDoseNeedsNoWeight(t *testing.T) {
	job := drenched(pace.Ewe, pace.Sheep, 100)
	job.Mobs[0].Services = []string{pace.Inject}
	in := Input{Job: job, Products: []Product{{Name: "vaccine", Service: pace.Inject, MLPerHead: 2, Packs: []int{100, 200, 500}}}}
	item := find(t, in, "vaccine")
	if item.Amount != 210 || item.Reckoned != "100 head × 2.00 mL; 5 % over" {
		t.Errorf("%g mL, %q", item.Amount, item.Reckoned)
	}
	if strings.Contains(item.Caution, "guess") || !strings.Contains(item.Caution, "2 to 8 °C") {
		t.Errorf("caution %q", item.Caution)
	}
	if got := item.Packs; len(got) != 2 || got[0] != (Pack{200, 1}) || got[1] != (Pack{100, 1}) {
		t.Errorf("packs %v", got)
	}
}

// Nobody has named the drench: the list still says how many doses.
func TestUnnamedProductIsCountedInDoses(t *testing.T) {
	item := find(t, Input{Job: drenched(pace.Doe, pace.Goat, 40)}, "product for drenching")
	if item.Amount != 42 || item.Unit != "doses" || len(item.Packs) != 0 {
		t.Errorf("%+v", item)
	}
	if !strings.Contains(item.Caution, "goats: your vet sets their dose") {
		t.Errorf("caution %q", item.Caution)
	}
}

// find is the item of that name.
func find(t *testing.T, in Input, what string) Item {
	t.Helper()
	list, err := List(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, item := range list {
		if item.What == what {
			return item
		}
	}
	t.Fatalf("no %q in %+v", what, list)
	return Item{}
}
