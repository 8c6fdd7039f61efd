package schedule

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/say"
	"drawbar/routing/round"
)

// trial is a set of visits, each at its place, as the planner sees it.
type trial struct {
	*problem
	plan    round.Plan
	misfits []string            // what cannot be where it is, in sentences
	out     map[booking.ID]bool // the bookings of those
}

// placedAt tries visits, by booking, exactly where and when they are: with the
// nights, hours and rules of the days they are in. Bookings that are not among
// them are left aside.
func (pb *problem) placedAt(at map[booking.ID][]booking.Visit) trial {
	t := trial{problem: pb.pinned(at), out: map[booking.ID]bool{}}
	for id, visits := range at {
		if _, asked := t.ask[string(id)]; !asked && len(visits) > 0 {
			t.misfit(id, visits[0], pb.stuck[id])
		}
	}
	from := t.planOf(at)
	plan, err := round.Solve(context.Background(), t.Problem, round.Options{Iterations: -1, From: &from})
	if err != nil {
		t.misfits = append(t.misfits, "These days cannot be planned at all: "+err.Error())
		return t
	}
	t.plan = plan
	for _, l := range plan.LeftOut {
		if v, held := pb.held[l.Visit]; held {
			t.misfit(v.BookingID, v, pb.tight(at, v))
		} else {
			id := pb.ask[l.Visit].ID
			t.misfit(id, at[id][0], pb.tight(at, at[id][0]))
		}
	}
	slices.Sort(t.misfits)
	return t
}

// misfit notes a booking that cannot be where it is.
func (t *trial) misfit(id booking.ID, v booking.Visit, why string) {
	t.out[id] = true
	text := t.farms[v.FarmID].Name + ", " + say.Day(v.Day) + " at " + say.Minute(t.minute(v.Day, v.Arrive)) + " with " + t.rigName(v.RigID)
	if why != "" {
		text += ": " + why
	}
	t.misfits = append(t.misfits, text)
}

// tight says how much time is missing to get to a visit from the one before, or
// from it to the next; "" when that is not what is wrong.
func (pb *problem) tight(at map[booking.ID][]booking.Visit, v booking.Visit) string {
	for _, other := range pb.beside(at, v) {
		from, to, text := other, v, "%s too little to get there from %s"
		if v.Arrive.Before(other.Arrive) {
			from, to, text = v, other, "%s too little to get from there to %s"
		}
		drive := leg(pb.drives(v.RigID).towing, string(from.YardID), string(to.YardID))
		if short := from.Leave().Add(time.Duration(drive.Seconds) * time.Second).Sub(to.Arrive); short > 0 {
			return fmt.Sprintf(text, say.Length(max(short, time.Minute)), pb.farms[other.FarmID].Name)
		}
	}
	return ""
}

// beside are the other visits of a visit's round, those that stay included.
func (pb *problem) beside(at map[booking.ID][]booking.Visit, v booking.Visit) (others []booking.Visit) {
	all := slices.Collect(maps.Values(pb.held))
	for _, visits := range at {
		all = append(all, visits...)
	}
	for _, o := range all {
		if o.RigID == v.RigID && o.Day == v.Day && o.BookingID != v.BookingID {
			others = append(others, o)
		}
	}
	slices.SortFunc(others, func(a, b booking.Visit) int { return a.Arrive.Compare(b.Arrive) })
	return others
}

// pinned is the problem with the bookings given held to their places, and no
// others asked for.
func (pb *problem) pinned(at map[booking.ID][]booking.Visit) *problem {
	other := *pb
	other.ask, other.Visits = maps.Clone(pb.ask), nil
	other.Rigs = slices.Clone(pb.Rigs)
	for i := range other.Rigs {
		other.Rigs[i].Days = slices.Clone(pb.Rigs[i].Days)
	}
	for _, v := range pb.Visits {
		if _, held := pb.held[v.ID]; held {
			other.Visits = append(other.Visits, v)
			continue
		}
		visits := at[pb.ask[v.ID].ID]
		if len(visits) == 0 {
			delete(other.ask, v.ID)
			continue
		}
		other.Visits = append(other.Visits, pb.pin(v, visits))
	}
	return &other
}

// pin holds a booking to the place and the times of its visits.
func (pb *problem) pin(v round.Visit, visits []booking.Visit) round.Visit {
	first := visits[0]
	v.Times = pb.anyCrew(first.RigID, pb.placedTimes(v.ID, visits))
	v.Pin = &round.Pin{Rig: string(first.RigID), Day: first.Day.DaysSince(pb.from), Start: pb.second(first.Day, first.Working())}
	if v.Pin.Day < 0 || v.Pin.Day >= pb.Days {
		v.Pin.Day, v.Windows = round.AnyDay, []round.Window{{FromDay: pb.Days, ToDay: pb.Days, To: round.Day}} // nowhere
	}
	v.Value, v.Promise = round.MaxPrice, nil
	if len(visits) == 1 {
		v.MinChunk = 0
	}
	return v
}

// placedTimes are the times that visits were placed with.
func (pb *problem) placedTimes(visit string, visits []booking.Visit) round.Times {
	first, last := visits[0], visits[len(visits)-1]
	t := timesOf(pb.estimates[visit][pb.crew(string(first.RigID), first.Day.DaysSince(pb.from))])
	t.Work, t.Late90 = 0, 0
	for _, part := range visits {
		t.Work += int32(part.Work.Seconds())
		t.Late90 += int32((part.WorkLong - part.Work).Seconds())
	}
	t.Late80 = t.Late90 * 2 / 3
	if first.SetUp > 0 {
		t.SetUp = int32(first.SetUp.Seconds())
	}
	if last.PackDown > 0 {
		t.Pack = int32(last.PackDown.Seconds())
	}
	return t
}

// planOf is visits as a plan to start from: the stops of each round in order.
func (pb *problem) planOf(at map[booking.ID][]booking.Visit) round.Plan {
	type stop struct {
		round.Stop
		begins time.Time
	}
	rounds := map[night][]stop{}
	add := func(id string, v booking.Visit, part, parts int) {
		key := night{string(v.RigID), v.Day.DaysSince(pb.from)}
		begin := pb.second(v.Day, v.Working())
		rounds[key] = append(rounds[key], stop{round.Stop{Visit: id, Part: part, Parts: parts, Begin: begin, Done: begin + int32(v.Work.Seconds())}, v.Working()})
	}
	for id, v := range pb.held {
		add(id, v, 1, 1)
	}
	for id, visits := range at {
		for _, v := range visits {
			add(string(id), v, v.Part, v.Parts)
		}
	}
	var plan round.Plan
	for _, rig := range pb.Rigs {
		for day := range pb.Days {
			stops := rounds[night{rig.ID, day}]
			slices.SortFunc(stops, func(a, b stop) int { return a.begins.Compare(b.begins) })
			r := round.Round{Rig: rig.ID, Day: day}
			for _, s := range stops {
				r.Stops = append(r.Stops, s.Stop)
			}
			if len(stops) > 0 {
				plan.Rounds = append(plan.Rounds, r)
			}
		}
	}
	return plan
}
