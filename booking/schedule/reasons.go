package schedule

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/say"
	"drawbar/routing/round"
)

// reasoning bounds how long reasons are worked out; with hundreds of moves the
// last ones go without figures.
const reasoning = 3 * time.Second

// reasons gives, for each move of a plan, why, and what it adds to the cost:
// by laying the same days out without the booking, or with it where it was.
func (pb *problem) reasons(plan round.Plan, planned map[booking.ID][]booking.Visit) func(Move) (string, int64) {
	until := time.Now().Add(reasoning)
	return func(m Move) (string, int64) {
		if len(m.New) == 0 {
			return pb.whyOut(plan, m.Booking), 0
		}
		other := maps.Clone(planned)
		delete(other, m.Booking)
		if len(m.Old) > 0 {
			other[m.Booking] = pb.timedNow(m.Old)
		}
		if time.Now().After(until) {
			return "Goes with the other moves.", 0
		}
		if m.Kind() == Timed {
			return pb.whyTimed(m), 0
		}
		t := pb.placedAt(other)
		if t.out[m.Booking] || len(t.misfits) > 0 {
			return pb.whyGone(m, planned), 0
		}
		adds := pb.figures(plan).Cost - pb.figures(t.plan).Cost
		if len(m.Old) == 0 {
			return pb.between(plan, m) + moreDriving(t.plan, plan) + ".", adds
		}
		return cmp.Or(lessDriving(t.plan, plan, adds), pb.longer(m), earlier(m), "Makes room for the other visits."), adds
	}
}

// whyOut is the reason of a booking that is taken out.
func (pb *problem) whyOut(plan round.Plan, id booking.ID) string {
	for _, l := range plan.LeftOut {
		if l.Visit == string(id) {
			return pb.reason(l)
		}
	}
	return pb.stuck[id]
}

// whyGone says why a visit cannot stay where it was.
func (pb *problem) whyGone(m Move, planned map[booking.ID][]booking.Visit) string {
	old := m.Old[0]
	for _, rig := range pb.rigs {
		if rig.ID != old.RigID {
			continue
		}
		if off := pb.offReason(rig, old.Day); off != "" {
			return fmt.Sprintf("%s does not go out on %s: %s.", rig.Name, say.Day(old.Day), off)
		}
		if d, late := pb.off[rigDate{rig.ID, old.Day}]; late && !d.AllDay() {
			return pb.offInWords(d)
		}
	}
	if old.Day.Before(pb.today()) {
		return "Its day is over."
	}
	for id, visits := range planned {
		for _, v := range visits {
			if id != m.Booking && v.RigID == old.RigID && v.Arrive.Before(old.Leave()) && old.Arrive.Before(v.Leave()) {
				return pb.farms[v.FarmID].Name + " takes its old time."
			}
		}
	}
	if longer := pb.longer(m); longer != "" {
		return longer
	}
	if missing := pb.whoIsAway(old); missing != "" {
		return missing + " on " + say.Day(old.Day) + ": the others do not get through it all."
	}
	return "Its old time no longer works beside the other visits of the day."
}

// whoIsAway says who of a visit's crew is away that day; "" when nobody is.
func (pb *problem) whoIsAway(v booking.Visit) string {
	rig, _ := pb.rig(v.RigID)
	if _, away := pb.onDay(rig, v.Day); len(away) > 0 {
		return areAway(away)
	}
	return ""
}

// whyTimed says why a visit that keeps its place changes all the same.
func (pb *problem) whyTimed(m Move) string {
	if longer := pb.longer(m); longer != "" {
		return longer
	}
	return "Its end changes with where the rig goes next."
}

// timedNow are the visits of a booking with the times they would be given now.
// Visits of several days share the work as before.
func (pb *problem) timedNow(visits []booking.Visit) []booking.Visit {
	timed := slices.Clone(visits)
	var before time.Duration
	for _, v := range visits {
		before += v.Work
	}
	for i, v := range visits {
		id, rig, begun := string(v.BookingID), string(v.RigID), visits[0].Day.DaysSince(pb.from)
		if t := pb.timesFor(id, rig, begun); t.Work > 0 && before > 0 {
			timed[i].Work = time.Duration(float64(t.Work) * float64(v.Work) / float64(before) * float64(time.Second)).Round(time.Second)
			timed[i].WorkLong = pb.long(id, rig, begun, timed[i].Work)
			timed[i].SetUp, timed[i].PackDown = ends(v, t)
		}
	}
	return timed
}

// ends are the set-up and the pack-down of a visit with the times it would be
// given now; what is not set up or packed for still is not.
func ends(v booking.Visit, t round.Times) (setUp, packDown time.Duration) {
	if v.SetUp > 0 {
		setUp = time.Duration(t.SetUp) * time.Second
	}
	if v.PackDown > 0 {
		packDown = time.Duration(t.Pack) * time.Second
	}
	return setUp, packDown
}

// longer says that a booking takes another time than when it was placed; ""
// when that is nothing to speak of.
func (pb *problem) longer(m Move) string {
	var change time.Duration
	for _, v := range m.Old {
		change -= v.Work
	}
	for _, v := range m.New {
		change += v.Work
	}
	const times = "its times are reckoned now"
	switch {
	case m.Old[0].RigID != m.New[0].RigID || change.Abs() < Slightly:
		return ""
	case change > 0:
		return "The work takes " + say.Length(change) + " longer than when it was placed, as " + cmp.Or(pb.whoIsAway(m.New[0]), times) + "."
	}
	return "The work takes " + say.Length(-change) + " less than when it was placed, as " + times + "."
}

// between names the neighbours of a new visit in its round.
func (pb *problem) between(plan round.Plan, m Move) string {
	for _, r := range plan.Rounds {
		for i, s := range r.Stops {
			if s.Visit != string(m.Booking) {
				continue
			}
			before, after := "home", "home"
			if i > 0 {
				before = pb.stopName(r.Stops[i-1])
			}
			if i+1 < len(r.Stops) {
				after = pb.stopName(r.Stops[i+1])
			}
			if before == after {
				return "Alone that day"
			}
			return "Between " + before + " and " + after
		}
	}
	return "New"
}

func (pb *problem) stopName(s round.Stop) string {
	if v, held := pb.held[s.Visit]; held {
		return pb.farms[v.FarmID].Name
	}
	return pb.farms[pb.ask[s.Visit].FarmID].Name
}

// moreDriving is what a plan drives more than another: ": 14 km and 20 min
// more driving".
func moreDriving(without, with round.Plan) string {
	km, seconds := kmOf(with)-kmOf(without), with.Totals.Drive-without.Totals.Drive
	switch {
	case km > 0:
		return fmt.Sprintf(": %d km and %s more driving", km, say.Length(time.Duration(seconds)*time.Second))
	case km < 0:
		return fmt.Sprintf(": %d km less driving, with the other moves", -km)
	}
	return ": no more driving"
}

func kmOf(p round.Plan) int64 { return (p.Totals.Metres + 500) / 1000 }

// lessDriving says what moving a visit saves against leaving it where it was; ""
// for nothing.
func lessDriving(stay, plan round.Plan, adds int64) string {
	km, drive := kmOf(stay)-kmOf(plan), time.Duration(stay.Totals.Drive-plan.Totals.Drive)*time.Second
	switch {
	case km > 0 && drive > 0:
		return fmt.Sprintf("Saves %d km and %s of driving.", km, say.Length(drive))
	case km > 0:
		return fmt.Sprintf("Saves %d km.", km)
	case plan.Cost.Overtime < stay.Cost.Overtime:
		return "Saves overtime."
	case plan.Totals.Nights < stay.Totals.Nights:
		return "Saves a night away."
	case adds < 0:
		return "Shortens the crew's day."
	case plan.Cost.Risk < stay.Cost.Risk:
		return "Makes it likelier to finish in daylight."
	}
	return ""
}

// earlier says that a visit comes forward within its day, where nothing else
// tells the two times apart; "" when it does not.
func earlier(m Move) string {
	was, is := m.Old[0], m.New[0]
	if was.RigID != is.RigID || was.Day != is.Day || !is.Arrive.Before(was.Arrive) {
		return ""
	}
	return "Begins earlier, which costs nothing more."
}
