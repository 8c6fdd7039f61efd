package schedule

import (
	"errors"
	"math"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/routing/round"
)

// timesOf is an estimate as the planner takes it.
func timesOf(e pace.Estimate) round.Times {
	return round.Times{
		SetUp: secondsOf(minutes(e.Parts.SetUp)), Work: secondsOf(e.Working.Median), Pack: secondsOf(minutes(e.Parts.PackDown)),
		Late80: secondsOf(e.Working.P80 - e.Working.Median), Late90: secondsOf(e.Working.P90 - e.Working.Median),
	}
}

func minutes(p pace.Part) time.Duration {
	return time.Duration(p.Minutes * float64(time.Minute)).Round(time.Minute)
}

func secondsOf(d time.Duration) int32 { return int32(math.Round(d.Seconds())) }

func sentence(err error) string {
	var bad *pace.Error
	if errors.As(err, &bad) {
		return bad.Sentence
	}
	return err.Error()
}

// visitsOf reads the planner's stops back into visits, by booking and in the
// order of parts. Held visits are left alone.
func (pb *problem) visitsOf(plan round.Plan) map[booking.ID][]booking.Visit {
	planned := map[booking.ID][]booking.Visit{}
	nights := map[night]round.Night{}
	for _, n := range plan.Nights {
		nights[night{n.Rig, n.Day}] = n
	}
	for _, r := range plan.Rounds {
		for i, stop := range r.Stops {
			b, ok := pb.ask[stop.Visit]
			if !ok {
				continue
			}
			v := pb.visit(b, r, stop)
			stays, away := nights[night{r.Rig, r.Day}]
			v.Overnight = i == len(r.Stops)-1 && away
			v.Lodged = v.Overnight && stays.Lodged
			if v.Overnight && stop.Part == stop.Parts {
				v.PackDown = time.Duration(pb.timesFor(stop.Visit, r.Rig, r.Day).Pack) * time.Second
			}
			planned[b.ID] = append(planned[b.ID], v)
		}
	}
	for id, visits := range planned {
		shareHead(pb.bookings[id].Head(), visits)
	}
	return planned
}

type night struct {
	rig string
	day int
}

// timesFor is how long a visit takes that begins on a day of the plan.
func (pb *problem) timesFor(visit, rig string, day int) round.Times {
	crew := pb.crew(rig, day)
	if t, keeps := pb.stored[visit][crew]; keeps {
		return t
	}
	return timesOf(pb.estimates[visit][crew])
}

// visit is one stop. Waiting before the work is spent on the road: the rig
// arrives just in time to set up.
func (pb *problem) visit(b booking.Booking, r round.Round, stop round.Stop) booking.Visit {
	day := pb.from.AddDays(r.Day)
	setUp := stop.Ready - stop.Arrive
	work := time.Duration(stop.Done-stop.Begin) * time.Second
	return booking.Visit{
		BookingID: b.ID, FarmID: b.FarmID, YardID: b.YardID, RigID: booking.ID(r.Rig), Day: day,
		Part: stop.Part, Parts: stop.Parts, State: booking.Pencilled,
		Arrive: pb.instant(day, int(stop.Begin-setUp)), SetUp: time.Duration(setUp) * time.Second,
		Work: work, WorkLong: pb.long(stop.Visit, r.Rig, r.Day+1-stop.Part, work),
		PackDown: time.Duration(stop.Pack) * time.Second, WashDown: time.Duration(stop.Wash) * time.Second,
	}
}

// long stretches the work of a part to its own 90 % time.
func (pb *problem) long(visit, rig string, begun int, work time.Duration) time.Duration {
	t := pb.timesFor(visit, rig, begun)
	if t.Work == 0 {
		return work
	}
	share := float64(t.Work+t.Late90) / float64(t.Work)
	return time.Duration(float64(work) * share).Round(time.Second)
}

// shareHead gives each part its share of the animals by its share of the work;
// the last part takes what is left.
func shareHead(head int, visits []booking.Visit) {
	var work time.Duration
	for _, v := range visits {
		work += v.Work
	}
	left := head
	for i := range visits {
		visits[i].Head = left
		if i < len(visits)-1 && work > 0 {
			visits[i].Head = int(math.Round(float64(head) * float64(visits[i].Work) / float64(work)))
		}
		left -= visits[i].Head
	}
}
