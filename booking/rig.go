package booking

import (
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Rig is a handler and how it travels.
type Rig struct {
	ID         ID
	Name       string
	Mount      Mount
	SideTilt   bool
	WeighBars  bool
	TagReader  bool
	SortGates  int            // powered sort gates, 0 to 3
	RacePlaces int            // animals the lead-up race holds
	Mass       int            // kg, laden
	Length     float64        // metres, vehicle and trailer
	Width      float64        // metres
	Height     float64        // metres
	Crew       []ID           // who usually goes with it
	Workdays   []time.Weekday // days it usually goes out
	DayStart   int            // minutes after midnight the crew may leave home
	DayEnd     int            // minutes after midnight it should be home
	Active     bool
	Version    int
}

// Mount is how a rig travels.
type Mount string

// The mounts.
const (
	OnTrailer Mount = "trailer" // its own trailer, lowered on site, wheels off
	OnSkid    Mount = "skid"    // a frame on a flatbed that forks at the yard lift off
)

// Mounts in the order a form lists them.
var Mounts = []Mount{OnTrailer, OnSkid}

// DayOff is a day on which a rig does not go out.
type DayOff struct {
	RigID  ID
	Date   civil.Date
	Reason string
}

// Check says what is wrong with the entries, field by field.
func (r Rig) Check() error {
	f := fault.Fields{}
	f.Text("name", r.Name, 60, fault.Required)
	if !oneOf(r.Mount, Mounts) {
		f.Add("mount", "Choose how the rig travels: on its own trailer or on a skid frame.")
	}
	f.Range("sort_gates", float64(r.SortGates), 0, 3, "powered gates")
	f.Range("race_places", float64(r.RacePlaces), 1, 60, "animals the lead-up race holds")
	f.Range("mass", float64(r.Mass), 100, 20000, "kilograms, laden")
	f.Range("length", r.Length, 2, 40, "metres, vehicle and trailer together")
	f.Range("width", r.Width, 1, 5, "metres")
	f.Range("height", r.Height, 0.5, 5, "metres")
	f.Range("day_start", float64(r.DayStart), 0, 24*60-1, "a time of day")
	if len(r.Workdays) == 0 {
		f.Add("workdays", "Choose at least one day of the week on which it goes out.")
	}
	if r.DayEnd <= r.DayStart || r.DayEnd > 24*60 {
		f.Add("day_end", "The day has to end after it starts.")
	}
	return f.Err()
}

// Works tells whether the rig usually goes out on that day of the week.
func (r Rig) Works(day civil.Date) bool { return oneOf(day.Weekday(), r.Workdays) }
