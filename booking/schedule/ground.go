package schedule

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Ground is what a plan rests on: everything it saw, by version.
type Ground struct {
	From, To civil.Date
	Versions map[booking.ID]int
	Off      []booking.DayOff
	Visits   []booking.Visit // live ones of the days
}

// ground is what the world of a span of days rests on.
func (w *world) ground() Ground {
	g := Ground{From: w.from, To: w.to, Versions: map[booking.ID]int{booking.BusinessID: w.business.Version}, Visits: slices.Clone(w.visits)}
	for _, r := range w.rigs {
		g.Versions[r.ID] = r.Version
		for _, id := range r.Crew {
			g.Versions[id] = w.people[id].Version
		}
	}
	for _, b := range w.open {
		w.restOn(&g, b)
	}
	for _, v := range w.visits {
		w.restOn(&g, w.bookings[v.BookingID])
	}
	for _, off := range w.off {
		g.Off = append(g.Off, off)
	}
	slices.SortFunc(g.Off, func(a, b booking.DayOff) int {
		if a.Date != b.Date {
			return a.Date.DaysSince(b.Date)
		}
		return compare(a.RigID, b.RigID)
	})
	return g
}

func (w *world) restOn(g *Ground, b booking.Booking) {
	g.Versions[b.ID] = b.Version
	g.Versions[b.FarmID] = w.farms[b.FarmID].Version
	g.Versions[b.YardID] = w.yards[b.YardID].Version
	for _, m := range b.Mobs {
		for _, code := range m.Services {
			g.Versions[booking.ID(code)] = w.services[code].Version
		}
	}
}

// Fingerprint is a short name for exactly this ground.
func (g Ground) Fingerprint() string {
	text, err := json.Marshal(g)
	if err != nil {
		return "" // days and numbers always marshal
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:12])
}

// seen is the ground as the store checks it, within the transaction.
func (g Ground) seen() (map[booking.ID]int, *booking.SeenDays) {
	versions := map[booking.ID]int{}
	for id, v := range g.Versions {
		versions[id] = v
	}
	days := &booking.SeenDays{From: g.From, To: g.To, Off: g.Off}
	for _, v := range g.Visits {
		versions[v.ID] = v.Version
		days.Visits = append(days.Visits, v.ID)
	}
	return versions, days
}

// since says, in sentences, what differs from an earlier ground, for those
// things that matter.
func (w *world) since(g Ground, matters func(booking.ID) bool) []string {
	now := w.ground()
	var says []string
	add := func(format string, args ...any) {
		if text := fmt.Sprintf(format, args...); !slices.Contains(says, text) {
			says = append(says, text)
		}
	}
	for _, id := range sortedIDs(g.Versions) {
		version, known := now.Versions[id]
		switch {
		case !matters(id) || known && version == g.Versions[id]:
		case !known:
			add("%s is closed or gone.", w.nameOf(id, g))
		default:
			add("%s has changed.", w.nameOf(id, g))
		}
	}
	w.visitsSince(g, matters, add)
	w.offSince(g, now, matters, add)
	return says
}

func sortedIDs(versions map[booking.ID]int) []booking.ID {
	ids := make([]booking.ID, 0, len(versions))
	for id := range versions {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// nameOf is a thing in words.
func (w *world) nameOf(id booking.ID, g Ground) string {
	if b, ok := w.bookings[id]; ok {
		return fmt.Sprintf("Booking %d of %s", b.Number, w.farms[b.FarmID].Name)
	}
	if f, ok := w.farms[id]; ok {
		return "The farm " + f.Name
	}
	if y, ok := w.yards[id]; ok {
		return "The yard " + y.Name + " of " + w.farms[y.FarmID].Name
	}
	if p, ok := w.people[id]; ok {
		return p.Name
	}
	if s, ok := w.services[string(id)]; ok {
		return "The service " + strings.ToLower(s.Name)
	}
	if id == booking.BusinessID {
		return "The business"
	}
	for _, r := range w.rigs {
		if r.ID == id {
			return r.Name
		}
	}
	for _, v := range g.Visits {
		if v.BookingID == id {
			return "The booking of " + w.farms[v.FarmID].Name
		}
	}
	return "A rig or a booking"
}

func (w *world) visitsSince(g Ground, matters func(booking.ID) bool, add func(string, ...any)) {
	was := byID(g.Visits, func(v booking.Visit) booking.ID { return v.ID })
	is := byID(w.visits, func(v booking.Visit) booking.ID { return v.ID })
	for _, old := range g.Visits {
		v, there := is[old.ID]
		farm := w.farms[old.FarmID].Name
		switch {
		case !matters(old.ID) || there && v.Version == old.Version:
		case !there:
			add("The visit to %s on %s was called off or moved out of these days.", farm, say.Day(old.Day))
		case begun(v):
			add("The visit to %s has begun.", farm)
		case v.RigID != old.RigID || !v.Arrive.Equal(old.Arrive):
			add("The visit to %s was moved to %s.", farm, w.placeInWords(v))
		case v.State != old.State:
			add("The visit to %s is %s now.", farm, v.State)
		default:
			add("The visit to %s has changed.", farm)
		}
	}
	for _, v := range w.visits {
		if _, known := was[v.ID]; !known && matters(v.ID) {
			add("A visit to %s was placed on %s.", w.farms[v.FarmID].Name, w.placeInWords(v))
		}
	}
}

func (w *world) offSince(g, now Ground, matters func(booking.ID) bool, add func(string, ...any)) {
	for _, d := range now.Off {
		if !slices.Contains(g.Off, d) && matters(d.RigID) {
			add("%s", w.offInWords(d))
		}
	}
	for _, d := range g.Off {
		key := rigDate{d.RigID, d.Date}
		if _, still := w.off[key]; !still && matters(d.RigID) {
			add("%s may go out again on %s.", w.rigName(d.RigID), say.Day(d.Date))
		}
	}
}

func (w *world) offInWords(d booking.DayOff) string {
	if d.AllDay() {
		return fmt.Sprintf("%s stays at home on %s: %s.", w.rigName(d.RigID), say.Day(d.Date), d.Reason)
	}
	return fmt.Sprintf("%s goes out on %s only from %s: %s.", w.rigName(d.RigID), say.Day(d.Date), say.Minute(d.From), d.Reason)
}
