package jobs

import (
	"fmt"
	"slices"
	"strings"

	"drawbar/booking"
)

// Sheet is what a docket is held against: the visit and what was booked.
type Sheet struct {
	Visit    booking.Visit
	Number   int // of the booking
	Mobs     []booking.Mob
	Services map[string]booking.Service // by code, for their names
}

// AllMobs are the booked mobs and those the docket added on site, which have
// no head booked.
func (s Sheet) AllMobs(d Docket) []booking.Mob {
	mobs := slices.Clone(s.Mobs)
	for _, added := range d.Added {
		known := slices.ContainsFunc(mobs, func(m booking.Mob) bool { return m.ID == added.Mob })
		if !known {
			mobs = append(mobs, booking.Mob{ID: added.Mob, Class: added.Class, Species: added.Class.Species()})
		}
	}
	return mobs
}

// Service is a service's name, or its code where the name is not known.
func (s Sheet) Service(code string) string {
	if known, ok := s.Services[code]; ok {
		return known.Name
	}
	return code
}

// Reconcile holds a docket against what was booked, and its parts against
// each other: head in = Σ gates + incidents. It gives a sentence for each
// thing that does not add up, none where all does.
func Reconcile(d Docket, s Sheet) []string {
	var says sentences
	mobs := s.AllMobs(d)
	says.heads(d, s, mobs)
	for _, m := range mobs {
		says.services(d, s, m)
	}
	says.strangers(d, mobs)
	says.below(d, s, mobs)
	says.treatments(d, mobs)
	says.clock(d)
	return says
}

type sentences []string

func (s *sentences) add(format string, args ...any) {
	*s = append(*s, fmt.Sprintf(format, args...))
}

// heads holds what went in against what came out. A visit that is one of
// several has no head of its own per mob, only over all of them.
func (s *sentences) heads(d Docket, sheet Sheet, mobs []booking.Mob) {
	if d.Head() == 0 {
		s.add("Nothing has been counted.")
		return
	}
	if sheet.Visit.Parts > 1 {
		s.balance("head for this visit", sheet.Visit.Head, d.Head(), d.Lost(""))
		return
	}
	for _, m := range mobs {
		if m.Head > 0 {
			s.balance(plural(m.Class), m.Head, d.MobHead(m.ID), d.Lost(m.ID))
		}
	}
}

func (s *sentences) balance(what string, booked, worked, lost int) {
	short := booked - worked - lost
	if short == 0 {
		return
	}
	out := fmt.Sprintf("%d %s booked, %d worked", booked, what, worked)
	if lost > 0 {
		out += fmt.Sprintf(", %d lost to the count by an incident", lost)
	}
	if short > 0 {
		s.add("%s: %d not accounted for.", out, short)
		return
	}
	s.add("%s: %d more than booked.", out, -short)
}

// Lost is the head that incidents took out of the count, of every mob for "".
func (d Docket) Lost(mob booking.ID) int {
	total := 0
	for _, i := range d.Incidents {
		if mob == "" || i.Mob == mob {
			total += i.Head
		}
	}
	return total
}

// services tells where a service was done to fewer of a mob than others, was
// booked and not done, or done and not booked.
func (s *sentences) services(d Docket, sheet Sheet, m booking.Mob) {
	worked := d.MobHead(m.ID)
	for _, code := range m.Services {
		done := d.Done(m.ID, code)
		if worked > 0 && done != worked {
			s.add("%s was done to %d of the %d %s.", sheet.Service(code), done, worked, plural(m.Class))
		}
	}
	for _, code := range d.servicesOf(m.ID) {
		if m.Head > 0 && !slices.Contains(m.Services, code) {
			s.add("%s was not booked for the %s and was done to %d.", sheet.Service(code), plural(m.Class), d.Done(m.ID, code))
		}
	}
}

// strangers are counts for a mob that has gone from the booking meanwhile.
func (s *sentences) strangers(d Docket, mobs []booking.Mob) {
	for _, mob := range d.mobs() {
		if classOf(mobs, mob) == "" {
			s.add("%d head were counted for a mob that is not on the booking any more.", d.MobHead(mob))
		}
	}
}

func (s *sentences) below(d Docket, sheet Sheet, mobs []booking.Mob) {
	for _, t := range d.Below {
		s.add("%s for the %s: %d more were taken back than counted%s; it stands at 0.",
			sheet.Service(t.Service), plural(classOf(mobs, t.Mob)), -t.Head, atGate(t.Gate))
	}
}

func atGate(g Gate) string {
	if g == "" {
		return ""
	}
	return " at the gate “" + string(g) + "”"
}

func (s *sentences) treatments(d Docket, mobs []booking.Mob) {
	for _, t := range d.Treatments {
		if worked := d.MobHead(t.Mob); t.Head > worked {
			s.add("%s is down for %d %s and only %d were worked.", t.Product, t.Head, plural(classOf(mobs, t.Mob)), worked)
		}
		if t.Expired() {
			s.add("%s, batch %s, had expired on the day it was given. Ring the vet.", t.Product, t.Batch)
		}
	}
}

func (s *sentences) clock(d Docket) {
	switch {
	case d.Running():
		s.add("The work is not marked as finished.")
	case len(d.Work) == 0 && d.Head() > 0:
		s.add("The start of the work was not recorded, so there is no pace.")
	}
	if d.Arrived.IsZero() {
		s.add("The arrival was not recorded.")
	}
	if d.Signature != nil && d.Signature.Seen != d.Head() {
		s.add("The farmer signed when the screen showed %d head; it is %d now.", d.Signature.Seen, d.Head())
	}
}

func classOf(mobs []booking.Mob, id booking.ID) booking.Class {
	for _, m := range mobs {
		if m.ID == id {
			return m.Class
		}
	}
	return ""
}

// plural is many of a class: "ewes".
func plural(c booking.Class) string {
	if c == "" {
		return "animals"
	}
	_, many, _ := strings.Cut(c.Count(2), " ")
	return many
}
