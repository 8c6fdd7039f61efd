package booking

import (
	"drawbar/booking/fault"

	"github.com/paulmach/orb"
)

// Yard is a place at a farm where a rig can be set up.
type Yard struct {
	ID          ID
	FarmID      ID
	Name        string
	At          orb.Point // lon, lat of the gate
	GateWidth   float64   // metres; 0 where nobody has measured it
	TrainLength float64   // metres, the longest vehicle and trailer that fit; 0 unmeasured
	Surface     Surface
	Turning     bool // room to turn with the trailer on
	Lights      bool
	Power       bool
	Forks       bool // a tractor or loader with forks to lift a skid frame
	Helper      bool // somebody pushes up
	Overnight   bool // the rig may stay the night
	Access      string
	Version     int
}

// Surface is what the rig stands on.
type Surface string

// The surfaces.
const (
	Concrete Surface = "concrete"
	Gravel   Surface = "gravel"
	Grass    Surface = "grass" // dry and short
	Soft     Surface = "soft"  // mud, sand, long or wet grass
	Slope    Surface = "slope"
)

// Surfaces in the order a form lists them.
var Surfaces = []Surface{Concrete, Gravel, Grass, Soft, Slope}

// Check says what is wrong with the entries, field by field.
func (y Yard) Check() error {
	f := fault.Fields{}
	f.Text("name", y.Name, 120, fault.Required)
	f.Text("access", y.Access, 1000, fault.Optional)
	checkPosition(f, "position", y.At)
	f.Range("gate_width", y.GateWidth, 0, 30, "metres, 0 if nobody has measured it")
	f.Range("train_length", y.TrainLength, 0, 40, "metres, 0 if nobody has measured it")
	if !oneOf(y.Surface, Surfaces) {
		f.Add("surface", "Choose what the rig stands on from the list.")
	}
	return f.Err()
}

func oneOf[T comparable](v T, all []T) bool {
	for _, a := range all {
		if a == v {
			return true
		}
	}
	return false
}
