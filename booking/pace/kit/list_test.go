package kit

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"drawbar/booking/pace"

	"pgregory.net/rapid"
)

// whole is a visit where everything is done to 300 head.
func whole() Input {
	job := pace.Job{
		Mobs: []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 300}},
		Rig:  pace.Rig{SideTilt: true}, Crew: pace.Crew{People: 1}, Setting: pace.Setting{Hygiene: 2},
	}
	for _, s := range pace.Services() {
		job.Mobs[0].Services = append(job.Mobs[0].Services, s.Code)
	}
	return Input{Job: job, WorkHours: 10}
}

// Amounts reckoned by hand from the rates, all common practice.
func TestAmountsByHand(t *testing.T) {
	for what, want := range map[string]float64{
		"needles":                   13,  // 300/25 and one to spare
		"ear tags":                  315, // 300 and 5 %
		"rings":                     315,
		"sharp cutters":             3, // 300/150 and one
		"knife or shear blades":     6, // 300/60 and one
		"disposable gloves":         630,
		"contact gel":               2,  // 1.5 L and 5 %
		"disinfectant, ready mixed": 50, // class 2
		"fuel for the compressor":   15, // 10 h × 1.2 and a quarter
	} {
		if item := find(t, whole(), what); item.Amount != want {
			t.Errorf("%s: %g %s (%s), want %g", what, item.Amount, item.Unit, item.Reckoned, want)
		}
	}
	in := whole()
	in.Job.Setting.Power = true
	if item := find(t, in, "fuel for the compressor"); item.Amount != 3 { // a quarter of 12
		t.Errorf("with power at the yard %g L, want 3", item.Amount)
	}
}

// One needle for 20 to 50 sheep is common practice (no source). No list may
// stretch it beyond that.
func TestNeedlesAreChangedOftenEnough(t *testing.T) {
	if headPerNeedle < 20 || headPerNeedle > 50 {
		t.Errorf("one needle for %d head", headPerNeedle)
	}
}

// What is given to animals says whom to follow; everything else carries a caution.
func TestEveryItemCarriesItsCaution(t *testing.T) {
	in := whole()
	in.Products = []Product{
		{Name: "drench", Service: pace.Drench, MgPerKg: 0.2, MgPerML: 0.8, Packs: []int{1000}},
		{Name: "jab", Service: pace.Inject, MLPerHead: 2, Packs: []int{100}},
	}
	list, err := List(in)
	if err != nil {
		t.Fatal(err)
	}
	given := map[string]bool{"drench": true, "jab": true, "needles": true, "rings": true, "product for pour-on": true, "product for lamb marking": true}
	for _, item := range list {
		if item.Caution == "" || item.Reckoned == "" || item.Amount <= 0 {
			t.Errorf("%+v", item)
		}
		if given[item.What] != strings.HasSuffix(item.Caution, "Follow the label and your vet.") {
			t.Errorf("%s: %q", item.What, item.Caution)
		}
		delete(given, item.What)
	}
	if len(given) > 0 {
		t.Errorf("missing: %v", given)
	}
}

func TestBadInputNamesTheField(t *testing.T) {
	ok := Product{Name: "x", Service: pace.Drench, MgPerKg: 1, MgPerML: 1, Packs: []int{100}}
	product := func(change func(*Product)) func(*Input) {
		return func(in *Input) {
			p := ok
			change(&p)
			in.Products = []Product{p}
		}
	}
	weights := func(list ...WeightClass) func(*Input) { return func(in *Input) { in.Weights = list } }
	for field, change := range map[string]func(*Input){
		"crew.people":            func(in *Input) { in.Job.Crew.People = 0 },
		"work_hours":             func(in *Input) { in.WorkHours = math.NaN() },
		"products":               func(in *Input) { in.Products = make([]Product, 21) },
		"products.0.service":     product(func(p *Product) { p.Service = pace.Weigh }),
		"products.0.name":        product(func(p *Product) { p.Name = "" }),
		"products.0.ml_per_head": product(func(p *Product) { p.MLPerHead = 2 }),
		"products.0.mg_per_kg":   product(func(p *Product) { p.MgPerML = 1e-300 }),
		"products.0.packs":       product(func(p *Product) { p.Packs = []int{0} }),
		"weights.0.mob":          weights(WeightClass{1, 300, 70}),
		"weights.0.head":         weights(WeightClass{0, -1, 70}),
		"weights.0.heaviest_kg":  weights(WeightClass{0, 300, 7000}),
		"weights":                weights(WeightClass{0, 299, 70}),
	} {
		in := whole()
		change(&in)
		_, err := List(in)
		var bad *pace.Error
		if !errors.As(err, &bad) || bad.Field != field || !strings.HasSuffix(bad.Sentence, ".") {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// A product for a service that no mob gets would be loaded for nothing, or the
// service was forgotten.
func TestProductNobodyGetsIsAnError(t *testing.T) {
	in := Input{
		Job:      drenched(pace.Ewe, pace.Sheep, 10),
		Products: []Product{{Name: "x", Service: pace.PourOn, MLPerHead: 2, Packs: []int{100}}},
	}
	_, err := List(in)
	var bad *pace.Error
	if !errors.As(err, &bad) || bad.Field != "products.0.service" {
		t.Error(err)
	}
}

// Whatever is asked, there is a list or an error, the packs hold the amount, and
// more animals never need less.
func TestAnyListIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawn(t)
		list, err := List(in)
		if err != nil {
			return
		}
		in.Job.Mobs[0].Head++
		more, err := List(in)
		if err != nil {
			t.Skip() // the last head that can be asked
		}
		for i, item := range list {
			held := 0
			for _, p := range item.Packs {
				held += p.Size * p.Count
			}
			if len(item.Packs) > 0 && float64(held) < item.Amount {
				t.Fatalf("%d mL in packs for %g: %+v", held, item.Amount, item)
			}
			if more[i].What != item.What || more[i].Amount < item.Amount {
				t.Fatalf("one more head: %+v then %+v", item, more[i])
			}
		}
	})
}

func drawn(t *rapid.T) Input {
	in := Input{Job: drenched(pace.Ewe, pace.Sheep, rapid.IntRange(-1, pace.MaxHead).Draw(t, "head")), WorkHours: 3}
	in.Products = []Product{{
		Name: "x", Service: rapid.SampledFrom([]string{pace.Drench, pace.Inject, "shear"}).Draw(t, "service"),
		MgPerKg: rapid.Float64Range(0, 1000).Draw(t, "mg/kg"), MgPerML: rapid.Float64Range(0, 1000).Draw(t, "mg/mL"),
		Packs: rapid.SliceOfN(rapid.IntRange(-1, maxPack), 0, 4).Draw(t, "packs"),
	}}
	return in
}

// FuzzInput feeds the list what a form or file could hold.
func FuzzInput(f *testing.F) {
	seed, _ := json.Marshal(whole())
	f.Add(seed)
	f.Add([]byte(`{"work_hours":-1}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var in Input
		if json.Unmarshal(data, &in) != nil {
			return
		}
		var bad *pace.Error
		if _, err := List(in); err != nil && !errors.As(err, &bad) {
			t.Fatalf("an error without a field: %v", err)
		}
	})
}
