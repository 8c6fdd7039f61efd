package schedule

import (
	"context"
	"maps"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// WhyHere is what a visit costs where it is, and what it would cost at the
// next best place.
type WhyHere struct {
	Here    int64  // what it adds to the rounds, minor units
	Place   string // the next best place in words; "" where there is none
	More    int64  // what that costs more; less than nothing where it is cheaper
	Promise bool   // More holds the price of a broken promise
	Problem string // why nothing can be said; "" when it can
}

// lookAround is how many days an answer looks at.
const lookAround = 14

// WhyHere answers "why here?" for a visit that has not begun.
func (p *Planner) WhyHere(ctx context.Context, id booking.ID) (WhyHere, error) {
	v, err := p.Store.Visit(ctx, id)
	if err != nil {
		return WhyHere{}, err
	}
	w, err := p.around(ctx, v.Day)
	if err != nil {
		return WhyHere{}, err
	}
	if !mendable(v) || v.Day.Before(w.from) {
		return WhyHere{Problem: "The visit has begun or is over; its place is what it is."}, nil
	}
	pb := p.pose(w, func(o booking.Visit) bool { return movable(o) || o.BookingID == v.BookingID && mendable(o) })
	pb.clear(map[booking.ID][]booking.Visit{v.BookingID: nil})
	t := pb.placedAt(pb.byBooking(w.visits))
	if t.out[v.BookingID] {
		return WhyHere{Problem: "It breaks a rule where it is, so there is no price for being here."}, nil
	}
	return pb.whyHere(t, v), nil
}

// around reads the days from a day's week on, none of them over.
func (p *Planner) around(ctx context.Context, day civil.Date) (*world, error) {
	business, err := p.Store.Business(ctx)
	if err != nil {
		return nil, err
	}
	today := business.Today(p.Now())
	from := day.AddDays(-3)
	if from.Before(today) {
		from = today
	}
	return p.load(ctx, from, from.AddDays(lookAround-1))
}

func (pb *problem) whyHere(t trial, v booking.Visit) WhyHere {
	why, err := round.WhyHere(pb.loose(t), t.plan, string(v.BookingID))
	if err != nil { // beside the others only exactly as they are
		why, err = round.WhyHere(pb.letGo(t.Problem, v.BookingID), t.plan, string(v.BookingID))
	}
	if err != nil {
		return WhyHere{Problem: "What it would cost elsewhere cannot be said as the days are now."}
	}
	answer := WhyHere{Here: why.Here.Adds.Minor()}
	if why.Next != nil {
		answer.Place, answer.More = pb.spotInWords(*why.Next), (why.Next.Adds - why.Here.Adds).Minor()
		answer.Promise = pb.visitOf(string(v.BookingID)).Promise != nil
	}
	return answer
}

func (pb *problem) visitOf(id string) round.Visit {
	i := slices.IndexFunc(pb.Visits, func(v round.Visit) bool { return v.ID == id })
	return pb.Visits[i]
}

// spotInWords is a place in words: "Thu 11 March at 9:40 with Rig South".
func (pb *problem) spotInWords(s round.Spot) string {
	return say.Day(pb.from.AddDays(s.Day)) + ", work from " + say.Minute(int(s.Begin)/60) + " with " + pb.rigName(booking.ID(s.Rig))
}

// loose is a trial's problem with every booking free to be elsewhere, but with
// the times that its visits have.
func (pb *problem) loose(t trial) round.Problem {
	p := t.Problem
	for _, v := range t.Problem.Visits {
		if _, held := pb.held[v.ID]; !held {
			p = pb.letGo(p, booking.ID(v.ID))
		}
	}
	return p
}

// letGo frees one booking of a problem whose bookings are pinned.
func (pb *problem) letGo(p round.Problem, id booking.ID) round.Problem {
	p.Visits = slices.Clone(p.Visits)
	for i, pinned := range p.Visits {
		if pinned.ID != string(id) {
			continue
		}
		v := pb.visitOf(pinned.ID)
		times := maps.Clone(v.Times)
		maps.Copy(times, pinned.Times)
		v.Times, v.Value = times, pinned.Value
		p.Visits[i] = v
	}
	return p
}

// WhyNoDay says, in a sentence, why an open booking has no day and the
// cheapest way out; or where there is room for it.
func (p *Planner) WhyNoDay(ctx context.Context, id booking.ID) (string, error) {
	b, err := p.Store.Booking(ctx, id)
	if err != nil {
		return "", err
	}
	if !b.State.Open() || len(b.Windows) == 0 {
		return "", fault.Newf(fault.Conflict, "This booking is %s.", b.State)
	}
	w, err := p.around(ctx, b.Windows[0].From.AddDays(3))
	if err != nil {
		return "", err
	}
	pb := p.pose(w, movable)
	if advice := w.scanning(b); advice != "" {
		return advice, nil
	}
	if reason := pb.stuck[id]; reason != "" {
		return reason, nil
	}
	if pb.settled(b) {
		return "It has a day already.", nil
	}
	return pb.whyNoDay(ctx, b)
}

// whyNoDay tries the booking beside all that is placed.
func (pb *problem) whyNoDay(ctx context.Context, b booking.Booking) (string, error) {
	pb.clear(nil)
	at := pb.byBooking(pb.world.visits)
	t := pb.placedAt(at)
	own := pb.visitOf(string(b.ID))
	t.Problem.Visits = append(slices.Clone(t.Problem.Visits), own)
	t.ask[own.ID] = b
	plan, err := round.Solve(ctx, t.Problem, round.Options{Iterations: -1, From: &t.plan})
	if err != nil {
		return "", fault.Wrap(fault.Internal, err, "looking for a place failed")
	}
	for _, l := range plan.LeftOut {
		if l.Visit == own.ID {
			return pb.reason(l), nil
		}
	}
	visits := t.visitsOf(plan)[b.ID]
	if len(visits) == 0 {
		return "", fault.New(fault.Internal, "a booking is neither placed nor left out")
	}
	return "There is room on " + pb.placeInWords(visits[0]) + ". Plan the week, or place it by hand.", nil
}
