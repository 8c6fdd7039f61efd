package schedule

import (
	"fmt"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/fault"
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

// crewsOf are how many go with a rig: the usual crew, and those who are there on
// the days read.
func (w *world) crewsOf(r booking.Rig) map[string]int {
	there, away := w.onDay(r, w.from)
	all := map[string]int{string(r.ID): len(there.Crew) + len(away)}
	for i := range w.days() {
		crew, people := w.crewOn(r, w.from.AddDays(i))
		all[crew] = people
	}
	return all
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
	there, others := r.OnDay(day, w.people)
	for _, p := range others {
		away = append(away, p.Name)
	}
	return there, away
}

// crewOn names those who go with a rig on a day, for the planner, by how many
// they are. The usual crew goes by the rig's id, also when nobody is there.
func (w *world) crewOn(r booking.Rig, day civil.Date) (name string, people int) {
	there, away := w.onDay(r, day)
	if len(there.Crew) == 0 || len(away) == 0 {
		return string(r.ID), len(there.Crew) + len(away)
	}
	return fmt.Sprintf("%s with %d", r.ID, len(there.Crew)), len(there.Crew)
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

// fewer says how much longer a stop takes than planned when not all of the
// usual crew is there; "" when it was planned for those who are.
func (w *world) fewer(r booking.Rig, day civil.Date, s *Stop) string {
	there, away := w.onDay(r, day)
	if len(there.Crew) == 0 || len(away) == 0 {
		return ""
	}
	now := s.Visit
	if err := w.retime(&now, s.Booking, r); err != nil {
		return areAway(away) + " that day. " + fault.Sentence(err)
	}
	longer := now.Work - s.Visit.Work
	if longer < Slightly { // times change a little with everything learned
		return ""
	}
	return fmt.Sprintf("%s that day: with %s the work takes about %s longer than planned. Find somebody, or choose the day on the board to look for the time.",
		areAway(away), say.People(len(there.Crew)), say.Length(longer))
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
