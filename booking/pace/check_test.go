package pace

import (
	"errors"
	"strings"
	"testing"
)

// plain is a job with nothing special about it; tests change one thing.
func plain() Job {
	return Job{
		Mobs:    []Mob{{Species: Sheep, Class: Ewe, Head: 240, Services: []string{Drench}}},
		Setting: Setting{Lights: true, Power: true},
		Rig:     Rig{SideTilt: true, LeadUpPlaces: 10, PoweredGates: 3},
		Crew:    Crew{People: 1},
	}
}

// changed is plain with something done to it.
func changed(f func(*Job)) Job {
	j := plain()
	f(&j)
	return j
}

func TestBadJobsNameTheField(t *testing.T) {
	for _, c := range []struct {
		field, word string
		change      func(*Job)
	}{
		{"mobs", "at least one", func(j *Job) { j.Mobs = nil }},
		{"mobs", "21", func(j *Job) { j.Mobs = make([]Mob, 21) }},
		{"mobs.0.head", "-5", func(j *Job) { j.Mobs[0].Head = -5 }},
		{"mobs.0.head", "0", func(j *Job) { j.Mobs[0].Head = 0 }},
		{"mobs.0.head", "1000000000", func(j *Job) { j.Mobs[0].Head = 1e9 }},
		{"mobs.0.species", "llama", func(j *Job) { j.Mobs[0].Species = "llama" }},
		{"mobs.0.species", "Nothing", func(j *Job) { j.Mobs[0].Species = "" }},
		{"mobs.0.class", "doe", func(j *Job) { j.Mobs[0].Class = Doe }},
		{"mobs.0.services", "at least one", func(j *Job) { j.Mobs[0].Services = nil }},
		{"mobs.0.services.0", "shear", func(j *Job) { j.Mobs[0].Services[0] = "shear" }},
		{"mobs.0.services.0", "handling", func(j *Job) { j.Mobs[0].Services[0] = Handling }},
		{"mobs.0.services.1", "twice", func(j *Job) { j.Mobs[0].Services = []string{Drench, Drench} }},
		{"mobs.0.services.0", "side tilt", func(j *Job) { j.Mobs[0].Services[0], j.Rig.SideTilt = FootTrim, false }},
		{"mobs.0.gates", "4", func(j *Job) { j.Mobs[0].Gates = 4 }},
		{"mobs.0.lots", "200", func(j *Job) { j.Mobs[0].Lots = []Lot{{200, 3}} }},
		{"mobs.0.lots.1.size", "7", func(j *Job) { j.Mobs[0].Lots = []Lot{{200, 3}, {40, 7}} }},
		{"mobs.0.lots.0.head", "-1", func(j *Job) { j.Mobs[0].Lots = []Lot{{-1, 3}, {241, 4}} }},
		{"mobs.0.lots", "6", func(j *Job) { j.Mobs[0].Lots = make([]Lot, 7) }},
		{"setting.surface", "lava", func(j *Job) { j.Setting.Surface = "lava" }},
		{"setting.hygiene", "9", func(j *Job) { j.Setting.Hygiene = 9 }},
		{"rig.mount", "boat", func(j *Job) { j.Rig.Mount = "boat" }},
		{"rig.lead_up_places", "61", func(j *Job) { j.Rig.LeadUpPlaces = 61 }},
		{"rig.powered_gates", "-1", func(j *Job) { j.Rig.PoweredGates = -1 }},
		{"crew.people", "0", func(j *Job) { j.Crew.People = 0 }},
		{"crew.people", "7", func(j *Job) { j.Crew.People = 7 }},
	} {
		_, err := DefaultModel().Estimate(changed(c.change))
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%s %s: error %v, want *Error", c.field, c.word, err)
			continue
		}
		if e.Field != c.field || !strings.Contains(e.Sentence, c.word) {
			t.Errorf("got %q, want field %s and the word %q", e, c.field, c.word)
		}
	}
	if err := plain().Check(); err != nil {
		t.Errorf("a plain job is refused: %v", err)
	}
}

func TestErrorsKeepForeignTextShort(t *testing.T) {
	j := changed(func(j *Job) { j.Mobs[0].Species = Species(strings.Repeat("ä\x00", 5000)) })
	if err := j.Check(); len(err.Error()) > 400 || strings.Contains(err.Error(), "\x00") {
		t.Errorf("error of %d bytes: %.80s", len(err.Error()), err)
	}
}
