package booking

import (
	"math"
	"time"

	"drawbar/booking/fault"
	"drawbar/routing"

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
	Vehicle    Vehicle        // what takes it there
	Crew       []ID           // who usually goes with it
	Workdays   []time.Weekday // days it usually goes out
	DayStart   int            // minutes after midnight the crew may leave home
	DayEnd     int            // minutes after midnight it should be home
	Lodges     bool           // its crew may lodge near a yard instead of driving home
	Rests      bool           // stays at home on public holidays
	Active     bool
	Version    int
}

// Vehicle is what tows or carries a rig, as it drives alone. Zero is not
// known.
type Vehicle struct {
	Mass                  int // kg, as it usually drives, with the crew in it
	Length, Width, Height float64
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

// DayOff is a day on which a rig does not go out, or only later than usual.
type DayOff struct {
	RigID  ID
	Date   civil.Date
	Reason string
	From   int // minutes after midnight from which it goes out after all; 0 = it stays at home

	// Needed tells that the rig itself has to stand at home, from the evening
	// before on: for the workshop. Otherwise it may stay at a yard meanwhile.
	Needed bool
}

// AllDay tells whether the rig stays at home.
func (d DayOff) AllDay() bool { return d.From == 0 }

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
	r.Vehicle.check(f)
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

func (v Vehicle) check(f fault.Fields) {
	f.Range("vehicle_mass", float64(v.Mass), 0, 30000, "kilograms, 0 if nobody has weighed it")
	f.Range("vehicle_length", v.Length, 0, 15, "metres, 0 if nobody has measured it")
	f.Range("vehicle_width", v.Width, 0, 5, "metres, 0 if nobody has measured it")
	f.Range("vehicle_height", v.Height, 0, 5, "metres, 0 if nobody has measured it")
}

// OnTheRoad is the rig as a router sees it: the whole train, and the vehicle
// alone. Where the vehicle is not known, the train is taken to be no more than
// the rig, so a limit may be missed; where it is, the greater of the two is
// what has to fit.
func (r Rig) OnTheRoad() routing.Rig {
	v := r.Vehicle
	return routing.Rig{
		Train: routing.Size{Kg: r.Mass + v.Mass, Length: cm(r.Length), Width: cm(max(r.Width, v.Width)), Height: cm(max(r.Height, v.Height))},
		Alone: routing.Size{Kg: v.Mass, Length: cm(v.Length), Width: cm(v.Width), Height: cm(v.Height)},
	}
}

func cm(metres float64) int { return int(math.Round(metres * 100)) }
