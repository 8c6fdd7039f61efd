package schedule

import (
	"fmt"

	"drawbar/booking"
	"drawbar/booking/season"

	"cloud.google.com/go/civil"
)

// allowed are the farmer's days cut to what the animals' calendar allows; a
// reason where nothing is left.
func (w *world) allowed(b booking.Booking) ([]booking.Window, string) {
	days := b.Windows
	for _, m := range b.Mobs {
		if !m.MalesIn.IsValid() || !w.scans(m) {
			continue
		}
		scan := season.ScanWindow(m.MalesIn, m.MalesOut, m.Class.Species())
		if scan.Days.Empty() {
			return nil, scan.Short
		}
		if days = cut(days, scan.Days.From, scan.Days.To); len(days) == 0 {
			return nil, fmt.Sprintf("The farmer's days are outside the scanning days, %s. Ring for other days.", scan.Days)
		}
	}
	return days, ""
}

// scanning is the whole advice where no day will do to scan a booking; "" where
// some day does.
func (w *world) scanning(b booking.Booking) string {
	for _, m := range b.Mobs {
		if scan := season.ScanWindow(m.MalesIn, m.MalesOut, m.Class.Species()); m.MalesIn.IsValid() && w.scans(m) && scan.Days.Empty() {
			return scan.Says
		}
	}
	return ""
}

func (w *world) scans(m booking.Mob) bool {
	for _, code := range m.Services {
		if w.services[code].Scanning {
			return true
		}
	}
	return false
}

// cut keeps the part of each window between two days.
func cut(windows []booking.Window, from, to civil.Date) []booking.Window {
	var kept []booking.Window
	for _, w := range windows {
		if w.From.Before(from) {
			w.From = from
		}
		if w.To.After(to) {
			w.To = to
		}
		if !w.To.Before(w.From) {
			kept = append(kept, w)
		}
	}
	return kept
}
