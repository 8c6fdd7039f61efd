package schedule

import (
	"fmt"
	"slices"
	"strings"

	"drawbar/booking"
	"drawbar/booking/say"
	"drawbar/routing/round"
)

// leftOut are the bookings a plan has no place for, each with the reason.
func (pb *problem) leftOut(plan round.Plan) []Out {
	reasons := map[booking.ID]string{}
	for id, reason := range pb.stuck {
		reasons[id] = reason
	}
	for _, l := range plan.LeftOut {
		if b, ok := pb.ask[l.Visit]; ok {
			reasons[b.ID] = pb.reason(l)
		}
	}
	var out []Out
	for _, b := range pb.open {
		if reason, ok := reasons[b.ID]; ok {
			out = append(out, Out{b.ID, b.Number, pb.farms[b.FarmID].Name, b.MobsInWords(), reason})
		}
	}
	return out
}

func (w *world) waiting(b booking.Booking, reason string) Waiting {
	return Waiting{Booking: b, Farm: w.farms[b.FarmID], Yard: w.yards[b.YardID], Reason: reason}
}

// reason says in words why a visit is left out, and the cheapest way out.
func (pb *problem) reason(l round.LeftOut) string {
	r := l.Reason
	text := pb.cause(r, pb.kind(l.Visit))
	switch {
	case l.Way != nil:
		return text + " " + pb.way(*l.Way, r)
	case r.Nearest >= 0:
		return text + " The nearest day with room is " + say.Day(pb.from.AddDays(r.Nearest)) + "."
	case r.Cause == round.TooBig:
		return text + " Measure the yard again, or meet the rig at another yard."
	case r.Cause == round.Equipment:
		return text + " These days are full even so; look at others too."
	}
	return text
}

// kind is what a rig has to be for a visit, where not every rig is: "rig with
// a side tilt".
func (pb *problem) kind(visit string) string {
	var special []string
	for _, need := range needsOf(pb.ask[visit].Mobs, pb.services) {
		for _, rig := range pb.rigs {
			if len(missing([]string{need}, append(has(rig), pb.skills(rig)...))) > 0 && !slices.Contains(special, need) {
				special = append(special, need)
			}
		}
	}
	if len(special) == 0 {
		return "rig that could come"
	}
	words := make([]string, len(special))
	for i, need := range special {
		words[i] = needInWords(need)
	}
	return "rig with " + strings.Join(words, " and ")
}

// cause is what is in the way; kind is what a rig has to be.
func (pb *problem) cause(r round.Reason, kind string) string {
	rig := pb.rigName(booking.ID(r.Rig))
	switch r.Cause {
	case round.NoRig:
		return "No rig can come to this yard."
	case round.Equipment:
		return "No rig and crew with " + needInWords(r.Need) + " is in use."
	case round.TooBig:
		return pb.tooBig(r, rig)
	case round.Unreachable:
		return "There is no way to drive to this yard with a rig on; look at its position."
	case round.WrongDays:
		return "No " + kind + " goes out " + pb.spanInWords(r) + "."
	case round.TooLong:
		return "It does not fit into any day it may be done on, even with nothing else that day."
	case round.Waiting:
		return "A rig would come too soon after an infected flock."
	case round.NotWorth:
		return "Going there alone costs more than it should wait for; it can be done later with a neighbour."
	}
	return "No " + kind + " is free " + pb.spanInWords(r) + "."
}

func (pb *problem) tooBig(r round.Reason, rig string) string {
	what := map[string]string{"width": "gate", "length": "longest train that fits", "height": "height limit", "mass": "weight limit"}[r.Dimension]
	if r.Dimension == "mass" {
		return fmt.Sprintf("The yard's %s is %d kg; %s weighs %d kg.", what, r.Limit, rig, r.Size)
	}
	return fmt.Sprintf("The yard's %s is %.1f m; %s needs %.1f m.", what, float64(r.Limit)/100, rig, float64(r.Size)/100)
}

func (pb *problem) spanInWords(r round.Reason) string {
	from, to := pb.from.AddDays(max(r.FromDay, 0)), pb.from.AddDays(min(max(r.ToDay, 0), pb.world.days()-1))
	if from == to {
		return "on " + say.Day(from)
	}
	return "between " + say.Day(from) + " and " + say.Day(to)
}

// way is the cheapest rule to relax, as something to do.
func (pb *problem) way(w round.Way, r round.Reason) string {
	rig, on := pb.rigName(booking.ID(w.Rig)), say.Day(pb.from.AddDays(max(w.Day, 0)))
	switch w.Kind {
	case round.OtherDay:
		return fmt.Sprintf("%s has room on %s; ring to ask.", rig, on)
	case round.OtherTime:
		return fmt.Sprintf("%s could be there on %s at %s; ring to ask.", rig, on, say.Minute(int(w.Begin)/60))
	case round.LongerDay:
		return fmt.Sprintf("A longer day for %s on %s would do.", rig, on)
	case round.Lights:
		return fmt.Sprintf("With lights at the yard %s could do it on %s.", rig, on)
	case round.OtherRig:
		return fmt.Sprintf("%s could do it on %s.", rig, on)
	case round.MoreKit:
		return fmt.Sprintf("With %s, %s could do it on %s.", needInWords(r.Need), rig, on)
	case round.Split:
		return fmt.Sprintf("If the rig may stay the night, %s could do it over two days from %s.", rig, on)
	case round.LessWait:
		return fmt.Sprintf("With a shorter wait after the other flock, %s could do it on %s; ask the vet first.", rig, on)
	case round.SmallerRig:
		return "Measure the yard again, or meet the rig at another yard."
	}
	return fmt.Sprintf("%s could do it on %s.", rig, on)
}

// among tells whether any of a booking's days can still be one of those shown.
func (w *world) among(days []booking.Window) bool {
	return slices.ContainsFunc(days, func(d booking.Window) bool {
		return !d.To.Before(w.from) && !d.From.After(w.to) && !d.To.Before(w.today())
	})
}

// outside is for a booking none of whose days can be one of those shown.
func (w *world) outside(days []booking.Window) string {
	later := slices.IndexFunc(days, func(d booking.Window) bool { return d.From.After(w.to) })
	if later >= 0 {
		return "Suits from " + say.Day(days[later].From) + " on."
	}
	last := slices.MaxFunc(days, func(a, b booking.Window) int { return a.To.Compare(b.To) }).To
	if last.Before(w.from) && !last.Before(w.today()) {
		return "Suits until " + say.Day(last) + ", before the days shown."
	}
	return "The days that suited the farmer are over. Ring for new ones."
}
