package pace

import (
	"fmt"
	"strings"
)

// Check tells whether the job can be estimated. The error is an *Error that
// names the first field at fault.
func (j Job) Check() error {
	if err := j.check(); err != nil {
		return err
	}
	return nil
}

func (j *Job) check() *Error {
	if len(j.Mobs) == 0 {
		return bad("mobs", "Give at least one mob.")
	}
	if len(j.Mobs) > MaxMobs {
		return bad("mobs", "%d mobs are too many for one visit; give at most %d, or plan two visits.", len(j.Mobs), MaxMobs)
	}
	for i := range j.Mobs {
		if err := j.Mobs[i].check(j.Rig.SideTilt); err != nil {
			err.Field = fmt.Sprintf("mobs.%d.%s", i, err.Field)
			return err
		}
	}
	if err := j.Setting.check(); err != nil {
		return err
	}
	if err := j.Rig.check(); err != nil {
		return err
	}
	if n := j.Crew.People; n < 1 || n > MaxPeople {
		return bad("crew.people", "%d people cannot work a visit; give 1 to %d.", n, MaxPeople)
	}
	return nil
}

var classes = map[Species][]Class{
	Sheep: {Ewe, Ram, Hogget, Lamb},
	Goat:  {Doe, Buck, Kid},
}

func (m *Mob) check(tilt bool) *Error {
	if m.Head < 1 || m.Head > MaxHead {
		return bad("head", "%d is not a number of animals we can work; give 1 to %d.", m.Head, MaxHead)
	}
	known, ok := classes[m.Species]
	if !ok {
		return bad("species", "%s is not a species we work with; choose sheep or goat.", quoted(string(m.Species)))
	}
	if !oneOf(m.Class, known...) {
		return bad("class", "%s is not a class of %s; choose one of %s.", quoted(string(m.Class)), m.Species, list(known))
	}
	if err := m.checkLots(); err != nil {
		return err
	}
	if m.Gates < 0 || m.Gates > 3 {
		return bad("gates", "A mob can be sorted 1 to 3 ways, not %d.", m.Gates)
	}
	return m.checkServices(tilt)
}

func (m *Mob) checkLots() *Error {
	if len(m.Lots) > Sizes {
		return bad("lots", "There are only %d wall positions; put animals of like size into one lot.", Sizes)
	}
	sum := 0
	for i, lot := range m.Lots {
		if lot.Head < 1 || lot.Head > MaxHead {
			return bad(fmt.Sprintf("lots.%d.head", i), "%d is not a number of animals we can work; give 1 to %d.", lot.Head, MaxHead)
		}
		if lot.Size < 1 || lot.Size > Sizes {
			return bad(fmt.Sprintf("lots.%d.size", i), "%d is not a wall position; give 1 (narrowest) to %d (widest).", lot.Size, Sizes)
		}
		sum += lot.Head
	}
	if len(m.Lots) > 0 && sum != m.Head {
		return bad("lots", "The lots add up to %d head, the mob has %d; make them agree.", sum, m.Head)
	}
	return nil
}

func (m *Mob) checkServices(tilt bool) *Error {
	if len(m.Services) == 0 {
		return bad("services", "Give at least one service.")
	}
	for i, code := range m.Services {
		field := fmt.Sprintf("services.%d", i)
		k, ok := keyOf(code)
		if !ok || k >= keyHandling {
			return bad(field, "%s is not a service; choose from %s.", quoted(code), codes())
		}
		if services[k].NeedsTilt && !tilt {
			return bad(field, "%s needs a rig with a side tilt; choose such a rig or leave the service out.", services[k].Name)
		}
		if oneOf(code, m.Services[:i]...) {
			return bad(field, "%s is listed twice; give each service once.", services[k].Name)
		}
	}
	return nil
}

func (s *Setting) check() *Error {
	if !oneOf(s.Surface, "", Firm, Hard, Soft, Slope) {
		return bad("setting.surface", "%s is not a surface; choose firm, hard, soft or slope.", quoted(string(s.Surface)))
	}
	if s.Hygiene < 0 || s.Hygiene > 3 {
		return bad("setting.hygiene", "%d is not a hygiene class; give 0 (known clean) to 3 (known infected).", s.Hygiene)
	}
	return nil
}

func (r *Rig) check() *Error {
	if !oneOf(r.Mount, "", OnTrailer, OnSkid) {
		return bad("rig.mount", "%s is not a mount; choose trailer or skid.", quoted(string(r.Mount)))
	}
	if r.LeadUpPlaces < 0 || r.LeadUpPlaces > MaxPlaces {
		return bad("rig.lead_up_places", "A lead-up race has 1 to %d places, not %d.", MaxPlaces, r.LeadUpPlaces)
	}
	if r.PoweredGates < 0 || r.PoweredGates > 3 {
		return bad("rig.powered_gates", "A rig has 0 to 3 powered sort gates, not %d.", r.PoweredGates)
	}
	return nil
}

func oneOf[T comparable](x T, all ...T) bool {
	for _, a := range all {
		if a == x {
			return true
		}
	}
	return false
}

// quoted keeps foreign text short and printable inside our own sentence.
func quoted(s string) string {
	if s == "" {
		return "Nothing"
	}
	if r := []rune(s); len(r) > 40 {
		s = string(r[:40]) + "…"
	}
	return fmt.Sprintf("%q", s)
}

func list[T ~string](all []T) string {
	words := make([]string, len(all))
	for i, a := range all {
		words[i] = string(a)
	}
	return strings.Join(words, ", ")
}

func codes() string {
	words := make([]string, len(services))
	for i, s := range services {
		words[i] = s.Code
	}
	return list(words)
}
