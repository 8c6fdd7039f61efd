package schedule

import (
	"cmp"
	"context"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/say"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// Slot is a place where an open booking fits beside all that is placed, with
// nothing else moved.
type Slot struct {
	Rig      booking.Rig
	Place    Place         // as somebody would enter it by hand
	Work     int           // when work begins, minutes after local midnight
	Ahead    int           // days from today
	Adds     int64         // to what the rounds cost, minor units
	Driving  time.Duration // more than without it
	Overtime time.Duration // more than without it
	Dark     float64       // chance that its round's work ends after daylight
	Estimate bool          // its drives are estimated, not from roads
	weighs   round.Ticks   // what it adds to all that the planner weighs
	visit    booking.Visit // as it would be stored
}

const (
	mostSlots = 5
	// slotDays is how far from the first day that suits slots are looked for.
	slotDays = 28
)

// Slots are the places that weigh least on the rounds, the best first and no
// more than one for each rig and day; none where the booking has to wait, or
// needs several days. They are prices of the rounds as they stand.
func (p *Planner) Slots(ctx context.Context, id booking.ID) ([]Slot, error) {
	b, err := p.Store.Booking(ctx, id)
	if err != nil || !b.State.Open() || len(b.Windows) == 0 {
		return nil, err
	}
	w, err := p.suiting(ctx, b)
	if err != nil || w == nil {
		return nil, err
	}
	return p.slotsIn(w, b), nil
}

// slotsIn are the slots among some days.
func (p *Planner) slotsIn(w *world, b booking.Booking) []Slot {
	pb := p.pose(w, movable)
	if _, asked := pb.ask[string(b.ID)]; !asked {
		return nil
	}
	return p.slots(pb, b)
}

// suiting reads the days that suit a booking, none of them over; nil where all
// are.
func (p *Planner) suiting(ctx context.Context, b booking.Booking) (*world, error) {
	business, err := p.Store.Business(ctx)
	if err != nil {
		return nil, err
	}
	from := business.Today(p.Now())
	if first := firstDay(b); first.After(from) {
		from = first
	}
	to := from.AddDays(slotDays - 1)
	if b.Latest().Before(to) {
		to = b.Latest()
	}
	if to.Before(from) {
		return nil, nil
	}
	return p.load(ctx, from, to)
}

func firstDay(b booking.Booking) civil.Date {
	return slices.MinFunc(b.Windows, func(v, w booking.Window) int { return v.From.Compare(w.From) }).From
}

// slots probes for the booking with every other visit held where it is.
func (p *Planner) slots(pb *problem, b booking.Booking) []Slot {
	own := pb.visitOf(string(b.ID))
	pb.clear(map[booking.ID][]booking.Visit{b.ID: nil})
	now := pb.placedAt(pb.byBooking(pb.world.visits))
	spots, err := round.Spots(now.Problem, now.plan, own)
	if err != nil { // a visit placed by hand breaks a rule: no prices then
		return nil
	}
	var all []Slot
	for _, s := range spots {
		if len(all) == mostSlots {
			break
		}
		if slot, ok := pb.slot(now.plan, b, s); ok {
			all = append(all, slot)
		}
	}
	slices.SortStableFunc(all, func(s, t Slot) int { return cmp.Compare(s.weighs, t.weighs) })
	return all
}

// slot is a spot in whole minutes, where it still fits so: people are told
// minutes, the planner counts seconds.
func (pb *problem) slot(now round.Plan, b booking.Booking, s round.Spot) (Slot, bool) {
	if s.Parts > 1 {
		return Slot{}, false
	}
	v := wholeVisit(b)
	v.RigID, v.Day = booking.ID(s.Rig), pb.from.AddDays(s.Day)
	rig, used := pb.rig(v.RigID)
	if !used || pb.retime(&v, b, rig) != nil {
		return Slot{}, false
	}
	arrive := int(s.Begin) - int(v.SetUp.Seconds())
	for _, m := range []int{(arrive + minute - 1) / minute, arrive / minute} {
		v.Arrive = pb.instant(v.Day, m*minute)
		at := pb.byBooking(pb.world.visits)
		at[b.ID] = []booking.Visit{v}
		if then := pb.placedAt(at); len(then.misfits) == 0 {
			slot := Slot{Rig: rig, Place: Place{rig.ID, v.Day, m}, Work: m + int(v.SetUp/time.Minute), Ahead: v.Day.DaysSince(pb.today()), visit: v}
			slot.weigh(pb, now, then.plan)
			return slot, true
		}
	}
	return Slot{}, false
}

// weigh compares the rounds with the slot taken to those without.
func (s *Slot) weigh(pb *problem, now, then round.Plan) {
	before, after := pb.figures(now), pb.figures(then)
	s.Adds = after.Cost - before.Cost
	s.Driving = time.Duration(after.Driving-before.Driving) * time.Second
	s.Overtime = time.Duration(after.Overtime-before.Overtime) * time.Second
	s.weighs = then.Cost.Total() - now.Cost.Total()
	for _, r := range then.Rounds {
		if r.Rig != string(s.Rig.ID) || pb.from.AddDays(r.Day) != s.Place.Day {
			continue
		}
		s.Dark = 1 - r.Chance
		for _, stop := range r.Stops {
			s.Estimate = s.Estimate || stop.Drive != nil && stop.Drive.Estimate
		}
	}
}

// InWords is the slot in a sentence's part: "Tue 8 December, work from 7:24
// with Heron".
func (s Slot) InWords() string {
	return say.Day(s.Place.Day) + ", work from " + say.Minute(s.Work) + " with " + s.Rig.Name
}

// Arrives is the time of arrival as people say it.
func (s Slot) Arrives() string { return say.Minute(s.Place.Minute) }

// Works is when the first animal goes in.
func (s Slot) Works() string { return say.Minute(s.Work) }
