package schedule

import (
	"fmt"
	"slices"
	"strings"

	"drawbar/booking"
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

// crew is how many people go with a rig.
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
