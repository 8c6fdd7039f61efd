package schedule

import (
	"fmt"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/say"
)

// compare finds what a plan changes for one booking. Planned visits take the
// place of old ones, part by part, so that a phone still finds them.
func (pb *problem) compare(b booking.Booking, old, planned []booking.Visit) (m Move, changed bool) {
	for i := range planned {
		if i < len(old) {
			planned[i].ID, planned[i].Version = old[i].ID, old[i].Version
		}
		if len(old) > 0 {
			planned[i].State = old[0].State
		}
	}
	if slices.Equal(old, planned) {
		return m, false
	}
	farm := pb.farms[b.FarmID]
	m = Move{
		Booking: b.ID, Number: b.Number, Farm: farm.Name, Contact: farm.Contact, Phone: farm.Phone, Animals: b.MobsInWords(),
		Old: old, New: planned, Was: pb.placesInWords(old), Now: pb.changesInWords(old, planned),
		Told: len(old) > 0 && (b.State == booking.Offered || old[0].State == booking.Fixed) && !keepsWord(old, planned),
	}
	return m, true
}

func (w *world) placesInWords(visits []booking.Visit) []string {
	words := make([]string, len(visits))
	for i, v := range visits {
		words[i] = w.placeInWords(v)
	}
	return words
}

// changesInWords are planned visits; of those that keep day, time and rig, only
// what is different.
func (w *world) changesInWords(old, planned []booking.Visit) []string {
	words := w.placesInWords(planned)
	for i, v := range planned {
		if i < len(old) && sameStart(old[i], v) {
			words[i] = w.sameStartInWords(old[i], v)
		}
	}
	return words
}

// sameStart tells whether a visit keeps its day, its rig and, to the minute,
// its time.
func sameStart(old, v booking.Visit) bool {
	return old.RigID == v.RigID && old.Arrive.Truncate(time.Minute).Equal(v.Arrive.Truncate(time.Minute))
}

// sameStartInWords is what changes about a visit that keeps its place: "same
// start, leaves at 14:10 instead of 13:50".
func (w *world) sameStartInWords(old, v booking.Visit) string {
	text := "same start"
	if from, to := w.minute(v.Day, old.Leave()), w.minute(v.Day, v.Leave()); from != to {
		text += ", leaves at " + say.Minute(to) + " instead of " + say.Minute(from)
	}
	switch {
	case v.Overnight && !old.Overnight:
		text += ", the rig stays the night"
	case old.Overnight && !v.Overnight:
		text += ", the rig does not stay the night"
	case v.Lodged && !old.Lodged:
		text += ", the crew lodges"
	case old.Lodged && !v.Lodged:
		text += ", the crew drives home"
	}
	if old.Parts != v.Parts {
		text += fmt.Sprintf(", day %d of %d", v.Part, v.Parts)
	}
	return text
}

// placeInWords is a visit's place: "Tue 9 March at 13:06 with Rig North".
func (w *world) placeInWords(v booking.Visit) string {
	text := say.Day(v.Day) + " at " + say.Minute(w.minute(v.Day, v.Arrive)) + " with " + w.rigName(v.RigID)
	if v.Parts > 1 {
		text += fmt.Sprintf(" (day %d of %d)", v.Part, v.Parts)
	}
	if v.Overnight && v.Part == v.Parts {
		text += ", the rig stays the night"
	}
	if v.Lodged {
		text += ", the crew lodges"
	}
	return text
}

func (w *world) rigName(id booking.ID) string {
	if r, used := w.rig(id); used {
		return r.Name
	}
	return "a rig that is out of use"
}

// rig is one that is in use.
func (w *world) rig(id booking.ID) (booking.Rig, bool) {
	for _, r := range w.rigs {
		if r.ID == id {
			return r, true
		}
	}
	return booking.Rig{}, false
}
