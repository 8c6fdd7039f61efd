package booking

import (
	"fmt"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Mob is like animals worked together, with what is to be done to each head.
type Mob struct {
	ID         ID
	Species    Species
	Class      Class
	Head       int
	MixedSizes bool // sizes differ enough to change the crate walls
	Horned     bool
	FullWool   bool
	NewToCrate bool
	AtFoot     bool          // lambs or kids at foot
	Services   []string      // service codes, in working order
	MalesIn    civil.Date    // rams or bucks in; zero where it does not matter
	MalesOut   civil.Date    // and out again
	Weights    []WeightClass // animals that get one dose; empty where nobody has told
}

// Species of the mob.
type Species string

// The species.
const (
	Sheep Species = "sheep"
	Goat  Species = "goat"
)

// Class of like animals.
type Class string

// The classes.
const (
	Ewe    Class = "ewe"
	Ram    Class = "ram"
	Hogget Class = "hogget"
	Lamb   Class = "lamb"
	Doe    Class = "doe"
	Buck   Class = "buck"
	Kid    Class = "kid"
)

// Classes in the order a form lists them.
var Classes = []Class{Ewe, Ram, Hogget, Lamb, Doe, Buck, Kid}

// Species of the class.
func (c Class) Species() Species {
	if c == Doe || c == Buck || c == Kid {
		return Goat
	}
	return Sheep
}

// Count is the class with its number: "240 ewes", "1 ram".
func (c Class) Count(head int) string {
	if head == 1 {
		return "1 " + string(c)
	}
	return fmt.Sprintf("%d %ss", head, c)
}

// MaxHead is the largest mob taken in one entry.
const MaxHead = 20_000

// Check says what is wrong with the entries, field by field. The known
// services are those on offer.
func (m Mob) Check(known map[string]Service) fault.Fields {
	f := fault.Fields{}
	if !oneOf(m.Class, Classes) {
		f.Add("class", "Choose what the animals are from the list.")
	}
	if m.Head < 1 || m.Head > MaxHead {
		f.Add("head", "Give the number of animals, from 1 to %d.", MaxHead)
	}
	m.checkServices(f, known)
	if text := m.weightsFault(); text != "" {
		f.Add("heaviest", "%s", text)
	}
	for name, d := range map[string]civil.Date{"males_in": m.MalesIn, "males_out": m.MalesOut} {
		if d != (civil.Date{}) && (!d.IsValid() || d.Year < 2000) {
			f.Add(name, "Give the day, such as 2026-11-05, or leave it empty.")
		}
	}
	if m.MalesIn.IsValid() && m.MalesOut.IsValid() && m.MalesOut.Before(m.MalesIn) {
		f.Add("males_out", "This day is before the males went in; please look at both.")
	}
	return f
}

func (m Mob) checkServices(f fault.Fields, known map[string]Service) {
	if len(m.Services) == 0 {
		f.Add("services", "Choose at least one thing to be done.")
	}
	seen := map[string]bool{}
	for _, code := range m.Services {
		s, ok := known[code]
		if !ok || !s.Offered || seen[code] {
			f.Add("services", "Choose each service once, from the list.")
			return
		}
		seen[code] = true
	}
}
