package schedule

import (
	"fmt"
	"strings"

	"drawbar/booking"
	"drawbar/booking/say"
)

// tray lists the open bookings that have no day, with the reason. It asks the
// planner where the days shown can still be planned.
func (p *Planner) tray(w *world) []Waiting {
	placed := map[booking.ID]bool{}
	for _, v := range w.visits {
		placed[v.BookingID] = true
	}
	pb := &problem{world: w}
	var waiting []Waiting
	for _, b := range w.open {
		if !placed[b.ID] && !w.elsewhere[b.ID] {
			waiting = append(waiting, w.waiting(b, pb.whyWaiting(b)))
		}
	}
	return waiting
}

// whyWaiting is what can be said without planning.
func (pb *problem) whyWaiting(b booking.Booking) string {
	days, reason := pb.allowed(b)
	if reason != "" {
		return reason
	}
	if !pb.among(days) {
		return pb.outside(days)
	}
	if reason := pb.noRigFor(b); reason != "" {
		return reason
	}
	return "Not planned yet. Last day that suits: " + say.Day(b.Latest()) + "."
}

// noRigFor says why no rig at all can do the booking; "" when one can.
func (pb *problem) noRigFor(b booking.Booking) string {
	var reasons []string
	for _, rig := range pb.rigs {
		concern := pb.cannotCome(rig, b)
		if concern == "" {
			return ""
		}
		reasons = append(reasons, concern)
	}
	return strings.Join(reasons, " ")
}

// cannotCome says why a rig cannot do a booking on any day; "" when it can.
func (w *world) cannotCome(rig booking.Rig, b booking.Booking) string {
	yard := w.yards[b.YardID]
	lacks := missing(needsOf(b.Mobs, w.services), append(has(rig), w.skills(rig)...))
	switch {
	case len(lacks) > 0:
		return fmt.Sprintf("%s goes without %s.", rig.Name, needInWords(lacks[0]))
	case rig.Mount == booking.OnSkid && !yard.Forks:
		return rig.Name + " is on a skid frame and the yard has no forks to lift it."
	case yard.GateWidth > 0 && rig.Width > yard.GateWidth:
		return fmt.Sprintf("The yard's gate is %.1f m; %s needs %.1f m.", yard.GateWidth, rig.Name, rig.Width)
	case yard.TrainLength > 0 && rig.Length > yard.TrainLength:
		return fmt.Sprintf("The longest train that fits is %.1f m; %s with its vehicle is %.1f m.", yard.TrainLength, rig.Name, rig.Length)
	}
	if why := w.noWay(rig, yard); why != "" {
		return rig.Name + " cannot get there. " + why
	}
	return ""
}

// looks gathers what the contractor should see: what farmers changed, visits
// that break a rule, and work that may run into the dark.
func (w *world) looks(week *Week) []Look {
	var looks []Look
	for _, b := range w.open {
		if b.Attention != "" {
			looks = append(looks, Look{Sentence: w.farms[b.FarmID].Name + ": " + b.Attention, Booking: b.ID})
		}
	}
	for i := range week.Days {
		for j := range week.Days[i].Rounds {
			looks = append(looks, w.roundLooks(&week.Days[i], &week.Days[i].Rounds[j])...)
		}
	}
	return looks
}

// roundLooks notes the concerns of one round on its stops.
func (w *world) roundLooks(d *Day, r *Round) []Look {
	var looks []Look
	for i := range r.Stops {
		s := &r.Stops[i]
		if s.Visit.State == booking.SignedOff || d.Date.Before(w.today()) {
			continue
		}
		s.Concerns = w.concerns(d, r, i)
		for _, c := range s.Concerns {
			looks = append(looks, Look{Sentence: fmt.Sprintf("%s, %s: %s", say.Day(d.Date), s.Farm.Name, c), Booking: s.Booking.ID, Visit: s.Visit.ID})
		}
	}
	return looks
}
