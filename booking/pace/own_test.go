package pace

import (
	"errors"
	"strings"
	"testing"
)

func TestOwnRowsTakeTheirPlace(t *testing.T) {
	base := DefaultPriors()
	own := []Prior{
		Prior{Code: Drench, Seconds: 40, CV: 0.1, Origin: Own}.ForAnimals("lamb"), // in place of a row without species
		Prior{Code: Scan, Seconds: 11, CV: 0.1, Origin: Own}.ForAnimals("goat"),   // in no row's place
	}
	p := base.With(own)
	if len(p.Rows) != len(base.Rows)+1 || len(DefaultPriors().Rows) != len(base.Rows) {
		t.Fatalf("%d rows of %d", len(p.Rows), len(base.Rows))
	}
	table, err := p.compile()
	if err != nil {
		t.Fatal(err)
	}
	seconds := func(code string, c Class) float64 {
		k, _ := keyOf(code)
		return table.seconds[k][classIndex[c]]
	}
	for _, c := range []struct {
		code  string
		class Class
		want  float64
	}{{Drench, Lamb, 40}, {Drench, Ewe, 12}, {Scan, Doe, 11}, {Scan, Kid, 11}, {Scan, Ewe, 22}} {
		if got := seconds(c.code, c.class); got != c.want {
			t.Errorf("%s of a %s: %g s, want %g", c.code, c.class, got, c.want)
		}
	}
}

func TestRowsNameTheirAnimals(t *testing.T) {
	for covers, species := range map[string]Species{"": "", "sheep": Sheep, "goat": Goat, "lamb": Sheep, "buck": Goat, "cow": ""} {
		row := Prior{Species: Goat, Class: Kid}.ForAnimals(covers)
		want := covers
		if covers == "cow" {
			want = "" // no such animal: the row is for all
		}
		if row.Species != species || row.Covers() != want {
			t.Errorf("%q gives %+v", covers, row)
		}
	}
}

func TestEveryRowHasAWord(t *testing.T) {
	for code, want := range map[string]string{Drench: "Drenching", Handling: "Catching and letting go", PushUp: "Pushing up", "shear": "shear"} {
		if got := (Prior{Code: code}).Word(); got != want {
			t.Errorf("%s is called %q, want %q", code, got, want)
		}
	}
}

func TestOriginIsChecked(t *testing.T) {
	ok := Prior{Code: Scan, Seconds: 20, CV: 0.3, Origin: Published, Source: "somebody, 1984"}
	if err := ok.Check(); err != nil {
		t.Error(err)
	}
	for field, change := range map[string]func(*Prior){
		"origin":  func(p *Prior) { p.Origin = "hearsay" },
		"source":  func(p *Prior) { p.Source = "" },
		"seconds": func(p *Prior) { p.Seconds = -1 },
		"code":    func(p *Prior) { p.Code = "shear" },
	} {
		p := ok
		change(&p)
		var bad *Error
		if err := p.Check(); !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	ok.Source = strings.Repeat("羊", maxSource) // letters, not bytes
	if err := ok.Check(); err != nil {
		t.Error(err)
	}
}

// What another program has learned is refused, not believed.
func TestLearnedOfAnotherSizeIsRefused(t *testing.T) {
	for name, l := range map[string]*Learned{
		"nothing":       {},
		"fewer keys":    {Work: Effects{Mean: make([]float64, 3), Cov: [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}},
		"no covariance": {Work: Effects{Mean: make([]float64, keyCount)}},
	} {
		var bad *Error
		if _, err := NewModel(DefaultPriors(), l); !errors.As(err, &bad) || bad.Field != "learned" {
			t.Errorf("%s: %v", name, err)
		}
	}
	m := taught(t, slowFarm())
	broken := *m.learned
	broken.Work.Crew = map[string]int{"Ann": keyCount + 5}
	if _, err := NewModel(DefaultPriors(), &broken); err == nil {
		t.Error("a crew beyond the effects is believed")
	}
}

// The factor is the mean of the log-normal: exp(mean + variance/2).
func TestTaughtOfAService(t *testing.T) {
	m := taught(t, slowFarm())
	factor, cv, ok := m.Taught(Scan)
	if !ok || factor < 1.0004 || factor > 1.0006 || cv < 0.031 || cv > 0.032 { // mean 0, variance 0.001
		t.Errorf("%g ± %g, %v", factor, cv, ok)
	}
	if _, _, ok := m.Taught("shear"); ok {
		t.Error("something is taught of no service")
	}
	if factor, _, ok := DefaultModel().Taught(Scan); ok || factor != 1 {
		t.Error("something is taught before any docket")
	}
}
