package jobs

import (
	"cmp"
	"slices"

	"drawbar/booking"
)

// Tally is the head of a mob that one service was done to and that left by
// one gate.
type Tally struct {
	Mob     booking.ID `json:"mob"`
	Service string     `json:"service"`
	Gate    Gate       `json:"gate,omitempty"`
	Head    int        `json:"head"`
}

type cell struct {
	mob     booking.ID
	service string
	gate    Gate
}

// counts add up per cell; sums may pass below zero on the way.
type counts map[cell]int

func (c *counts) take(e Event) {
	count, ok := e.What.(Count)
	if !ok {
		return
	}
	if *c == nil {
		*c = counts{}
	}
	for _, service := range count.Services {
		(*c)[cell{count.Mob, service, count.Gate}] += count.Head
	}
}

// tallies are the sums above zero, and those below it, in a fixed order.
func (c counts) tallies() (above, below []Tally) {
	above = []Tally{}
	for at, head := range c {
		t := Tally{Mob: at.mob, Service: at.service, Gate: at.gate, Head: head}
		switch {
		case head > 0:
			above = append(above, t)
		case head < 0:
			below = append(below, t)
		}
	}
	slices.SortFunc(above, byCell)
	slices.SortFunc(below, byCell)
	return above, below
}

func byCell(a, b Tally) int {
	return cmp.Or(cmp.Compare(a.Mob, b.Mob), cmp.Compare(a.Service, b.Service), cmp.Compare(a.Gate, b.Gate))
}

func (t Tally) sameCell(other Tally) bool { return byCell(t, other) == 0 }

func (t Tally) none() bool { return t.Head == 0 }

// Done is the head of a mob that a service was done to, over all gates.
func (d Docket) Done(mob booking.ID, service string) int {
	total := 0
	for _, t := range d.Tallies {
		if t.Mob == mob && t.Service == service {
			total += t.Head
		}
	}
	return total
}

// MobHead is the head of a mob that was worked: that of the service done to
// most of them, since one animal may have several.
func (d Docket) MobHead(mob booking.ID) int {
	most := 0
	for _, service := range d.servicesOf(mob) {
		most = max(most, d.Done(mob, service))
	}
	return most
}

// Head is the head worked over all mobs.
func (d Docket) Head() int {
	total := 0
	for _, mob := range d.mobs() {
		total += d.MobHead(mob)
	}
	return total
}

// ThroughGate is the head of a mob that left by a gate, by the service that
// counts most there.
func (d Docket) ThroughGate(mob booking.ID, gate Gate) int {
	most := 0
	for _, t := range d.Tallies {
		if t.Mob == mob && t.Gate == gate {
			most = max(most, t.Head)
		}
	}
	return most
}

func (d Docket) servicesOf(mob booking.ID) []string {
	var services []string
	for _, t := range d.Tallies {
		if t.Mob == mob && !slices.Contains(services, t.Service) {
			services = append(services, t.Service)
		}
	}
	return services
}

func (d Docket) mobs() []booking.ID {
	var mobs []booking.ID
	for _, t := range d.Tallies {
		if !slices.Contains(mobs, t.Mob) {
			mobs = append(mobs, t.Mob)
		}
	}
	return mobs
}
