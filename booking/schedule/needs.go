package schedule

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"drawbar/booking"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// What a service may need of a rig or its crew, as the planner compares it.
const (
	sideTilt  = "side tilt"
	weighBars = "weigh bars"
	tagReader = "tag reader"
)

func sortGates(n int) string { return fmt.Sprintf("%d powered sort gates", n) }

func skill(s booking.Skill) string { return "skill: " + string(s) }

// needsOf are the needs of all services of some mobs, each once.
func needsOf(mobs []booking.Mob, services map[string]booking.Service) []string {
	var needs []string
	for _, m := range mobs {
		for _, code := range m.Services {
			for _, need := range needsOfService(services[code]) {
				if !slices.Contains(needs, need) {
					needs = append(needs, need)
				}
			}
		}
	}
	return needs
}

func needsOfService(s booking.Service) []string {
	var needs []string
	for _, n := range []struct {
		wanted bool
		need   string
	}{
		{s.SideTilt, sideTilt}, {s.WeighBars, weighBars}, {s.TagReader, tagReader},
		{s.SortGates > 0, sortGates(s.SortGates)}, {s.Skill != "", skill(s.Skill)},
	} {
		if n.wanted {
			needs = append(needs, n.need)
		}
	}
	return needs
}

// has is the equipment of a rig.
func has(r booking.Rig) []string {
	var kit []string
	for _, n := range []struct {
		there bool
		kit   string
	}{{r.SideTilt, sideTilt}, {r.WeighBars, weighBars}, {r.TagReader, tagReader}} {
		if n.there {
			kit = append(kit, n.kit)
		}
	}
	for n := 1; n <= r.SortGates; n++ {
		kit = append(kit, sortGates(n))
	}
	return kit
}

// skills of the people who go with a rig.
func (w *world) skills(r booking.Rig) []string {
	var all []string
	for _, id := range r.Crew {
		for _, s := range w.people[id].Skills {
			if w.people[id].Active && !slices.Contains(all, skill(s)) {
				all = append(all, skill(s))
			}
		}
	}
	return all
}

// onDay is a rig with those of its crew who go with it on a day, and the names
// of those who are away.
func (w *world) onDay(r booking.Rig, day civil.Date) (there booking.Rig, away []string) {
	there, there.Crew = r, nil
	for _, id := range r.Crew {
		p := w.people[id]
		switch _, is := p.AwayOn(day); {
		case !p.Active:
		case is:
			away = append(away, p.Name)
		default:
			there.Crew = append(there.Crew, id)
		}
	}
	return there, away
}

// skillsOn are the skills of those who go with a rig on a day.
func (w *world) skillsOn(r booking.Rig, day civil.Date) []string {
	there, _ := w.onDay(r, day)
	return w.skills(there)
}

// allAway says why nobody goes with a rig on a day on which everybody who
// usually does is away; "" when somebody is there, or nobody goes with it ever.
func (w *world) allAway(r booking.Rig, day civil.Date) string {
	there, away := w.onDay(r, day)
	if len(there.Crew) > 0 || len(away) == 0 {
		return ""
	}
	return areAway(away)
}

// areAway is "Ann is away", or "Ann, Bob and Cy are away".
func areAway(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0] + " is away"
	}
	return strings.Join(names[:last], ", ") + " and " + names[last] + " are away"
}

// fewer says how much longer a stop takes when not all of the usual crew is
// there, for whom lengths are reckoned; "" when that makes no difference.
func (w *world) fewer(r booking.Rig, day civil.Date, s *Stop) string {
	there, away := w.onDay(r, day)
	if len(there.Crew) == 0 || len(away) == 0 {
		return ""
	}
	with, without := s.Visit, s.Visit
	if w.retime(&with, s.Booking, r) != nil || w.retime(&without, s.Booking, there) != nil {
		return ""
	}
	longer := without.Work - with.Work
	if longer < time.Minute {
		return ""
	}
	return fmt.Sprintf("%s that day: with %s the work takes about %s longer than with %s. Find somebody, or leave more time.",
		areAway(away), say.People(w.crew(there)), say.Length(longer), say.People(w.crew(r)))
}

// lacksOn says what a booking needs that the rig has, but its crew of a day has
// not; "" for nothing.
func (w *world) lacksOn(r booking.Rig, day civil.Date, b booking.Booking) string {
	needs := needsOf(b.Mobs, w.services)
	met := append(has(r), w.skillsOn(r, day)...)
	if lacks := missing(needs, met); len(lacks) > 0 && len(missing(needs, append(has(r), w.skills(r)...))) == 0 {
		return fmt.Sprintf("%s goes without %s that day: they are away.", r.Name, needInWords(lacks[0]))
	}
	return ""
}

// crew is how many people usually go with a rig; lengths are estimated for
// them.
func (w *world) crew(r booking.Rig) int {
	n := 0
	for _, id := range r.Crew {
		if w.people[id].Active {
			n++
		}
	}
	return n
}

// missing are the needs that are not met.
func missing(needs, met []string) []string {
	return slices.DeleteFunc(slices.Clone(needs), func(n string) bool { return slices.Contains(met, n) })
}

// needInWords is a need in a sentence: "a side tilt", "somebody who can scan".
func needInWords(need string) string {
	switch {
	case need == sideTilt || need == tagReader:
		return "a " + need
	case strings.HasPrefix(need, "skill: "):
		return "somebody who can " + strings.ReplaceAll(strings.TrimPrefix(need, "skill: "), "-", " ")
	}
	return need
}

// withoutSkills are the needs that the rig itself has to meet.
func withoutSkills(needs []string) []string {
	return slices.DeleteFunc(slices.Clone(needs), func(n string) bool { return strings.HasPrefix(n, "skill: ") })
}
