package phone

import (
	"fmt"
	"slices"

	"drawbar/booking"
)

// bring is what to take along and mind at a yard, in sentences (common
// practice, no source).
func bring(b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig) []string {
	var says []string
	for _, c := range []struct {
		when     bool
		sentence string
	}{
		{!yard.Power, "No power at the yard: fuel for the compressor, charged batteries."},
		{!yard.Lights, "No lights at the yard: lamps if it may get late."},
		{!yard.Helper, "Nobody there to push up: bring the dog or a pusher."},
		{!yard.Turning, "No room to turn with the trailer on."},
		{rig.Mount == booking.OnSkid && yard.Forks, "The farm's forks lift the frame off; ask for them before you set out."},
		{rig.Mount == booking.OnSkid && !yard.Forks, "The frame needs forks and the yard has none."},
		{yard.GateWidth > 0 && yard.GateWidth < rig.Width+0.3, fmt.Sprintf("The gate is %g m and the rig %g m: have somebody see you through.", yard.GateWidth, rig.Width)},
		{farm.Hygiene >= booking.Unknown, fmt.Sprintf("Flock health %s: keep to the crate's own pen, wash down and disinfect before the next yard.", farm.Hygiene)},
		{anyOf(b, sharp), "Needles, tags or blades for the work, spare ones, and the sharps box."},
	} {
		if c.when {
			says = append(says, c.sentence)
		}
	}
	return says
}

// sharp are the services that use needles, tags or blades.
var sharp = []string{"inject", "ear-tag", "foot-trim", "crutch", "lamb-mark"}

func anyOf(b booking.Booking, services []string) bool {
	for _, code := range allServices(b.Mobs) {
		if slices.Contains(services, code) {
			return true
		}
	}
	return false
}
