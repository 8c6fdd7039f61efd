package lesson

import (
	"cmp"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
	"drawbar/booking/schedule"
	"drawbar/jobs"
)

// Around is what a docket itself does not say about its visit.
type Around struct {
	Visit   booking.Visit
	Mobs    []booking.Mob // as booked
	Yard    booking.Yard
	Hygiene booking.Hygiene
	Rig     booking.Rig // with those who went along, as planned
	Since   jobs.Docket // with what came after signing
}

// Observe is what a docket says about time: the job as it was worked, and the
// minutes it took.
func Observe(d jobs.SignedDocket, a Around) learn.Docket {
	job := schedule.Job(workedMobs(d, a.Mobs), a.Yard, a.Hygiene, a.Rig, len(a.Rig.Crew))
	if h := d.Docket.Hands; h != nil {
		job.Crew = pace.Crew{People: h.People, Pusher: h.Pusher}
	}
	for i, gates := range gatesOf(d) {
		job.Mobs[i].Gates = gates
	}
	job.Setting.RigStanding = a.Visit.Part > 1
	job.Setting.LeaveStanding = a.Visit.Overnight
	return learn.Docket{
		ID: string(d.ID), Job: job, Work: d.Docket.Worked(d.Docket.SignedAt).Minutes(),
		SetUp: d.Docket.SettingUp().Minutes(), PackDown: packing(d, a).Minutes(),
	}
}

// packing is the pack-down; a rig that stays the night is packed another day,
// and nobody timed it.
func packing(d jobs.SignedDocket, a Around) time.Duration {
	if a.Visit.Overnight {
		return 0
	}
	return cmp.Or(d.Docket.PackingDown(), a.Since.PackingDown())
}

// layer is the head of a mob that got the same services.
type layer struct {
	line     jobs.MobLine
	head     int
	services []string
}

// few is the share of a mob below which a difference in counts is a slip, not
// work of another kind.
const few = 0.05

// layers splits a mob where a service was done to part of it only: whoever got
// the rarer service got the commoner ones too.
func layers(d jobs.SignedDocket, line jobs.MobLine) []layer {
	lines := slices.DeleteFunc(slices.Clone(d.Lines), func(l jobs.Line) bool { return l.Mob != line.ID || l.Head <= 0 })
	slices.SortStableFunc(lines, func(a, b jobs.Line) int { return cmp.Compare(b.Head, a.Head) })
	var all []layer
	for i := range lines {
		next := 0
		if i+1 < len(lines) {
			next = lines[i+1].Head
		}
		if head := lines[i].Head - next; float64(head) > few*float64(line.Worked) {
			all = append(all, layer{line, head, codes(lines[:i+1])})
		}
	}
	fill(all, line.Worked)
	return all
}

// fill adds the head left out as slips to the largest layer.
func fill(all []layer, worked int) {
	for i := range all {
		worked -= all[i].head
	}
	if len(all) > 0 {
		largest := slices.IndexFunc(all, func(l layer) bool {
			return l.head == slices.MaxFunc(all, func(a, b layer) int { return cmp.Compare(a.head, b.head) }).head
		})
		all[largest].head += worked
	}
}

func codes(lines []jobs.Line) []string {
	all := make([]string, len(lines))
	for i, l := range lines {
		all[i] = l.Service
	}
	return all
}

// allLayers are those of every mob of a known class.
func allLayers(d jobs.SignedDocket) []layer {
	var all []layer
	for _, line := range d.Mobs {
		if line.Class != "" && line.Worked > 0 {
			all = append(all, layers(d, line)...)
		}
	}
	return all
}

// workedMobs are the layers as mobs, with what the booking says of the animals.
func workedMobs(d jobs.SignedDocket, booked []booking.Mob) []booking.Mob {
	var mobs []booking.Mob
	for _, l := range allLayers(d) {
		m := booking.Mob{ID: l.line.ID, Class: l.line.Class}
		if i := slices.IndexFunc(booked, func(b booking.Mob) bool { return b.ID == l.line.ID }); i >= 0 {
			m = booked[i].WithHead(l.head)
		}
		m.Class, m.Species, m.Head, m.Services = l.line.Class, l.line.Class.Species(), l.head, l.services
		mobs = append(mobs, m)
	}
	return mobs
}

// gatesOf is how many gates the animals of each layer left by.
func gatesOf(d jobs.SignedDocket) []int {
	var all []int
	for _, l := range allLayers(d) {
		gates := map[jobs.Gate]bool{}
		for _, t := range d.Docket.Tallies {
			if t.Mob == l.line.ID && t.Gate != "" && slices.Contains(l.services, pace.Sort) {
				gates[t.Gate] = true
			}
		}
		all = append(all, min(len(gates), 3))
	}
	return all
}
