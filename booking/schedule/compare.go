package schedule

import (
	"fmt"
	"slices"

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
		Old: old, New: planned, Was: pb.placesInWords(old), Now: pb.placesInWords(planned),
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

// placeInWords is a visit's place: "Tue 9 March at 13:06 with Rig North".
func (w *world) placeInWords(v booking.Visit) string {
	text := say.Day(v.Day) + " at " + say.Minute(w.minute(v.Day, v.Arrive)) + " with " + w.rigName(v.RigID)
	if v.Parts > 1 {
		text += fmt.Sprintf(" (day %d of %d)", v.Part, v.Parts)
	}
	if v.Overnight && v.Part == v.Parts {
		text += ", the rig stays the night"
	}
	return text
}

func (w *world) rigName(id booking.ID) string {
	for _, r := range w.rigs {
		if r.ID == id {
			return r.Name
		}
	}
	return "a rig that is out of use"
}
