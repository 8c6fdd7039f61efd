package pace

import (
	"errors"
	"testing"
)

// paceOf is head per hour of one service for plain ewes (does for goats).
func paceOf(t *testing.T, crew Crew, m Mob) float64 {
	t.Helper()
	j := plain()
	m.Head = 200
	j.Mobs, j.Crew = []Mob{m}, crew
	e, err := DefaultModel().Estimate(j)
	if err != nil {
		t.Fatal(err)
	}
	return e.HeadPerHour
}

// Planning rates passed on between contractors, one operator with somebody
// pushing up, animals already penned: common practice, no source.
func TestPriorsStayInsideCommonPractice(t *testing.T) {
	for _, c := range []struct {
		service   string
		class     Class
		low, high float64
	}{
		{Drench, Ewe, 120, 200}, {Inject, Ewe, 150, 250}, {EarTag, Ewe, 60, 120}, {Weigh, Ewe, 150, 250},
		{Sort, Ewe, 250, 500}, {FootCheck, Ewe, 40, 80}, {FootTrim, Ewe, 12, 25}, {Crutch, Ewe, 25, 45},
		{Scan, Ewe, 80, 200}, {LambMark, Lamb, 40, 70},
	} {
		got := paceOf(t, Crew{People: 1, Pusher: true}, Mob{Species: Sheep, Class: c.class, Services: []string{c.service}})
		if got < c.low || got > c.high {
			t.Errorf("%s: %.0f head an hour, common practice is %.0f to %.0f", c.service, got, c.low, c.high)
		}
	}
}

// Two operators and somebody pushing up: common practice, no source.
func TestTwoOperatorsStayInsideCommonPractice(t *testing.T) {
	for _, c := range []struct {
		services  []string
		low, high float64
	}{
		{[]string{Drench}, 200, 350}, {[]string{Weigh}, 200, 350}, {[]string{Sort}, 400, 800},
		{[]string{FootTrim}, 20, 40}, {[]string{FootCheck}, 70, 120},
	} {
		got := paceOf(t, Crew{People: 2, Pusher: true}, Mob{Species: Sheep, Class: Ewe, Services: c.services})
		if got < c.low || got > c.high {
			t.Errorf("%v: %.0f head an hour, common practice is %.0f to %.0f", c.services, got, c.low, c.high)
		}
	}
}

// Published paces. Scanning at least 60 ewes an hour at 97-99 % accuracy: White,
// Russel & Fowler 1984, Vet Rec 115:140. Condition scoring 2-5 seconds a head
// once presented: genetics adviser of a farm advisory group, 2021.
func TestPriorsAgreeWithPublishedPaces(t *testing.T) {
	ewes := Mob{Species: Sheep, Class: Ewe, Services: []string{Scan}}
	if got := paceOf(t, Crew{People: 1, Pusher: true}, ewes); got < 60 {
		t.Errorf("scanning %.0f an hour, research did at least 60", got)
	}
	for _, row := range DefaultPriors().Rows {
		if row.Code == Condition && (row.Seconds < 2 || row.Seconds > 5) {
			t.Errorf("condition scoring %g s, published range is 2 to 5", row.Seconds)
		}
	}
}

// Without dog or pusher, quick work slows by 30 to 50 %; goats by 10 to 30 %;
// horns or full wool by 10 to 20 %: common practice, no source.
func TestSlowingStaysInsideCommonPractice(t *testing.T) {
	alone, pushed := Crew{People: 1}, Crew{People: 1, Pusher: true}
	ewes := Mob{Species: Sheep, Class: Ewe, Services: []string{Drench}}
	does := Mob{Species: Goat, Class: Doe, Services: []string{Drench}}
	horned := ewes
	horned.Horned = true
	base := paceOf(t, pushed, ewes)
	for _, c := range []struct {
		name      string
		slower    float64
		low, high float64
	}{
		{"no pusher", paceOf(t, alone, ewes), 0.3, 0.5},
		{"goats", paceOf(t, pushed, does), 0.1, 0.3},
		{"horns", paceOf(t, pushed, horned), 0.1, 0.2},
	} {
		if loss := 1 - c.slower/base; loss < c.low || loss > c.high {
			t.Errorf("%s: %.0f %% slower, common practice is %.0f to %.0f %%", c.name, 100*loss, 100*c.low, 100*c.high)
		}
	}
}

// The rule of the table: what has no published source says so and starts wide.
func TestEveryPriorShowsItsOrigin(t *testing.T) {
	for _, row := range DefaultPriors().Rows {
		switch {
		case row.Origin == Published && row.Source == "":
			t.Errorf("%s is published by nobody", row.Code)
		case row.Origin == CommonPractice && (row.CV < 0.3 || row.CV > 0.5):
			t.Errorf("%s %s %s is common practice with a spread of %g, want 0.3 to 0.5", row.Code, row.Species, row.Class, row.CV)
		case row.Date == "":
			t.Errorf("%s has no date", row.Code)
		}
	}
}

func TestMoreSpecificRowsWin(t *testing.T) {
	p := DefaultPriors()
	own := func(species Species, class Class, s float64) Prior {
		return Prior{Code: Drench, Species: species, Class: class, Seconds: s, CV: 0.3, Origin: Own}
	}
	p.Rows = append([]Prior{own(Sheep, Ram, 40), own(Sheep, "", 30), own("", "", 20)}, p.Rows...)
	// the defaults that follow name lambs, goats and kids; a later general row
	// replaces an earlier one of the same level
	p.Rows = append(p.Rows, own("", "", 21))
	table, err := p.compile()
	if err != nil {
		t.Fatal(err)
	}
	k, _ := keyOf(Drench)
	for class, want := range map[Class]float64{Ram: 40, Ewe: 30, Hogget: 30, Lamb: 10, Doe: 14, Kid: 12} {
		if got := table.seconds[k][classIndex[class]]; got != want {
			t.Errorf("%s: %g s, want %g", class, got, want)
		}
	}
}

func TestBadPriorsNameTheField(t *testing.T) {
	for _, c := range []struct {
		field  string
		change func(*Priors)
	}{
		{"rows.0.seconds", func(p *Priors) { p.Rows[0].Seconds = 0 }},
		{"rows.2.seconds", func(p *Priors) { p.Rows[2].Seconds = 1e9 }},
		{"rows.1.cv", func(p *Priors) { p.Rows[1].CV = -0.1 }},
		{"rows.1.code", func(p *Priors) { p.Rows[1].Code = "shear" }},
		{"rows.1.class", func(p *Priors) { p.Rows[1].Class = "cow" }},
		{"rows.1.species", func(p *Priors) { p.Rows[1].Species = "cattle" }},
		{"farm", func(p *Priors) { p.Farm = -1 }},
		{"head", func(p *Priors) { p.Head = 5 }},
		{"rows", func(p *Priors) { p.Rows = p.Rows[1:] }},
	} {
		p := DefaultPriors()
		c.change(&p)
		_, err := NewModel(p, nil)
		var e *Error
		if !errors.As(err, &e) || e.Field != c.field {
			t.Errorf("got %v, want an error at %s", err, c.field)
		}
	}
}
