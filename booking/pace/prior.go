package pace

import (
	"fmt"
	"math"
)

// Origin tells how far a base value can be trusted.
type Origin string

// The origins.
const (
	Published      Origin = "published"
	CommonPractice Origin = "common practice"
	Own            Origin = "own" // entered by the contractor
)

// Prior is one base value: mean seconds per head with its doubt.
type Prior struct {
	Code    string  `json:"code"`              // a service code, Handling or PushUp
	Species Species `json:"species,omitempty"` // empty: any
	Class   Class   `json:"class,omitempty"`   // empty: any
	Seconds float64 `json:"seconds"`           // mean seconds per head at a typical farm
	CV      float64 `json:"cv"`                // doubt about Seconds, as a coefficient of variation
	Origin  Origin  `json:"origin"`
	Source  string  `json:"source,omitempty"` // who published it, or what it was checked against
	Date    string  `json:"date"`             // when it was entered, yyyy-mm-dd
}

// Priors is the table of base values with the spreads around them. The spreads
// are coefficients of variation.
type Priors struct {
	Rows []Prior `json:"rows"`
	Farm float64 `json:"farm"` // from farm to farm
	Crew float64 `json:"crew"` // from crew to crew
	Day  float64 `json:"day"`  // from visit to visit at one farm with one crew
	Head float64 `json:"head"` // from one head to the next
}

// table answers look-ups quickly: key × class. Classes imply the species.
type table struct {
	seconds [keyCount][7]float64
	vars    vec // log-variance of doubt by key
}

var classIndex = map[Class]int{Ewe: 0, Ram: 1, Hogget: 2, Lamb: 3, Doe: 4, Buck: 5, Kid: 6}

// compile checks the rows and spreads them over the table; rows that name a
// class win over rows that name a species, and those over general rows.
func (p *Priors) compile() (*table, *Error) {
	if err := p.checkSpreads(); err != nil {
		return nil, err
	}
	t := &table{}
	for level := range 3 {
		for i := range p.Rows {
			if err := t.take(&p.Rows[i], i, level); err != nil {
				return nil, err
			}
		}
	}
	for k := range t.seconds {
		for _, s := range t.seconds[k] {
			if s == 0 {
				return nil, bad("rows", "There is no base value for %s of every class; add a row that leaves species and class open.", codeOf(k))
			}
		}
	}
	return t, nil
}

func (p *Priors) checkSpreads() *Error {
	for _, s := range []struct {
		name string
		cv   float64
	}{{"farm", p.Farm}, {"crew", p.Crew}, {"day", p.Day}, {"head", p.Head}} {
		if !(s.cv >= 0 && s.cv <= 2) {
			return bad(s.name, "A spread of %g makes no sense; give a share between 0 and 2, such as 0.2.", s.cv)
		}
	}
	return nil
}

// take writes a row into the cells it covers if it is of the level asked for:
// 0 general, 1 species, 2 class.
func (t *table) take(row *Prior, i, level int) *Error {
	if err := row.check(); err != nil {
		err.Field = fmt.Sprintf("rows.%d.%s", i, err.Field)
		return err
	}
	if row.level() != level {
		return nil
	}
	k, _ := keyOf(row.Code)
	for species, list := range classes {
		for _, class := range list {
			if (row.Species == "" || row.Species == species) && (row.Class == "" || row.Class == class) {
				t.seconds[k][classIndex[class]] = row.Seconds
			}
		}
	}
	t.vars[k] = max(t.vars[k], logVar(row.CV))
	return nil
}

func (row *Prior) level() int {
	switch {
	case row.Class != "":
		return 2
	case row.Species != "":
		return 1
	}
	return 0
}

func (row *Prior) check() *Error {
	if _, ok := keyOf(row.Code); !ok {
		return bad("code", "%s is not a service; choose from %s, %s, %s.", quoted(row.Code), codes(), Handling, PushUp)
	}
	if row.Species != "" && classes[row.Species] == nil {
		return bad("species", "%s is not a species; choose sheep or goat, or leave it open.", quoted(string(row.Species)))
	}
	if _, ok := classIndex[row.Class]; row.Class != "" && !ok {
		return bad("class", "%s is not a class of sheep or goat.", quoted(string(row.Class)))
	}
	if !(row.Seconds > 0 && row.Seconds <= 3600) {
		return bad("seconds", "%g seconds a head cannot be; give more than 0 and at most 3600.", row.Seconds)
	}
	if !(row.CV >= 0 && row.CV <= 2) || math.IsNaN(row.CV) {
		return bad("cv", "A spread of %g makes no sense; give a share between 0 and 2, such as 0.4.", row.CV)
	}
	return row.checkOrigin()
}

func codeOf(k int) string {
	switch k {
	case keyHandling:
		return Handling
	case keyPush:
		return PushUp
	}
	return services[k].Code
}
