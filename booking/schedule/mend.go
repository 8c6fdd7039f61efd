package schedule

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// keepStill makes every visit prefer the place it has: promises have their
// price, and the others are moved only where that saves something to speak of.
// Bookings without a day are left for a plan of the week.
func (pb *problem) keepStill(costs Costs) {
	for id := range pb.stuck {
		if len(pb.visitsFor(id)) == 0 {
			delete(pb.stuck, id)
		}
	}
	var kept []round.Visit
	for _, v := range pb.Visits {
		b, asked := pb.ask[v.ID]
		switch visits := pb.visitsFor(b.ID); {
		case !asked:
			kept = append(kept, v)
		case len(visits) > 0:
			kept = append(kept, pb.still(pb.asPlaced(v, visits), visits[0], costs))
		default:
			delete(pb.ask, v.ID)
		}
	}
	pb.Visits = kept
}

// asPlaced lets visits keep the times that they were placed with: what was
// learned since is for the next plan of the week. More animals, or fewer hands,
// than they were placed for need more.
func (pb *problem) asPlaced(v round.Visit, visits []booking.Visit) round.Visit {
	head := 0
	for _, part := range visits {
		head += part.Head
	}
	if head < pb.ask[v.ID].Head() {
		return v
	}
	first := visits[0]
	crew, times := pb.crew(string(first.RigID), first.Day.DaysSince(pb.from)), pb.placedTimes(v.ID, visits)
	if times.Work < v.Times[crew].Work {
		crew = string(first.RigID) // it was placed for all of them
	}
	pb.stored[v.ID] = map[string]round.Times{crew: times}
	v.Times = maps.Clone(v.Times)
	v.Times[crew] = times
	return v
}

// still makes one booking prefer its place: the minute it has costs nothing,
// about that time a little, and anything else what shuffling costs where nobody
// was told, and what breaking the promise costs where somebody was.
func (pb *problem) still(v round.Visit, first booking.Visit, costs Costs) round.Visit {
	v.Value = max(v.Value, costs.Urgent)
	at, day := pb.second(first.Day, first.Working()), first.Day.DaysSince(pb.from)
	elsewhere := costs.Nudge
	if v.Promise == nil {
		elsewhere = costs.Shuffle
	}
	v.Windows = slices.Clone(v.Windows)
	for i := range v.Windows {
		v.Windows[i].Extra += elsewhere
	}
	about := func(tolerance int32, price int64) round.Window {
		return round.Window{FromDay: day, ToDay: day, From: max(at-tolerance, 0), To: min(at+tolerance, round.Day), Extra: price}
	}
	v.Windows = append(v.Windows, about(0, 0), about(costs.Prices.Tolerance, costs.Nudge))
	return v
}

// Trouble is something that goes wrong on a day: rigs stay at home, or go out
// late.
type Trouble struct {
	Rigs   []booking.ID
	Day    civil.Date
	Until  civil.Date // the last day it holds
	From   int        // minutes after midnight from which the rigs go out; 0 = not at all
	Reason string
}

// mendDays are how many days after the trouble the work may move to.
const mendDays = 9

// Mark notes trouble on the rigs' days, and gives the order for the plan that
// mends it.
func (p *Planner) Mark(ctx context.Context, t Trouble) (Order, error) {
	if err := p.checkTrouble(ctx, t); err != nil {
		return Order{}, err
	}
	known, err := p.Store.DaysOff(ctx, t.Day, t.Until)
	if err != nil {
		return Order{}, err
	}
	if err := p.Store.SaveDayOff(ctx, t.off(byRigDate(known))...); err != nil {
		return Order{}, err
	}
	return mendOrder(t.Day, t.Until), nil
}

// MarkAway notes that somebody does not come, and gives the order for the plan
// that leaves the others the time it takes. Who is known to be away that day
// stays away for as long as was noted.
func (p *Planner) MarkAway(ctx context.Context, who booking.ID, a booking.Away) (Order, error) {
	person, err := p.checkAway(ctx, who, a)
	if err != nil {
		return Order{}, err
	}
	if known, is := person.AwayOn(a.From); is {
		return mendOrder(a.From, known.To), nil
	}
	if err := person.NoteAway(a); err != nil {
		return Order{}, err
	}
	return mendOrder(a.From, a.To), p.Store.SavePerson(ctx, &person)
}

func (p *Planner) checkAway(ctx context.Context, who booking.ID, a booking.Away) (booking.Person, error) {
	business, err1 := p.Store.Business(ctx)
	people, err2 := p.Store.People(ctx)
	if err := errors.Join(err1, err2); err != nil {
		return booking.Person{}, err
	}
	f := fault.Fields{}
	person := booking.PeopleByID(people)[who]
	if !person.Active {
		f.Add("who", "Choose somebody from the list.")
	}
	if a.From.Before(business.Today(p.Now())) {
		f.Add("to", dayIsOver)
	}
	return person, f.Err()
}

// mendOrder is for the smallest change after trouble on some days.
func mendOrder(from, until civil.Date) Order {
	days := min(until.DaysSince(from)+1+mendDays, booking.MaxPlanDays)
	return Order{From: from, Days: days, Mend: true, Seed: 1, Seconds: mendSeconds}
}

// off are the days at home. A rig that had to be at home then still has to.
func (t Trouble) off(known map[rigDate]booking.DayOff) []booking.DayOff {
	var off []booking.DayOff
	for day := t.Day; !day.After(t.Until); day = day.AddDays(1) {
		for _, rig := range t.Rigs {
			off = append(off, booking.DayOff{RigID: rig, Date: day, Reason: t.Reason, From: t.From, Needed: known[rigDate{rig, day}].Needed})
		}
	}
	return off
}

// mendSeconds are enough for a change of a few visits.
const mendSeconds = 10

const (
	longestTrouble = 30 // days
	dayIsOver      = "This day is over; nothing can go wrong on it any more."
)

func (p *Planner) checkTrouble(ctx context.Context, t Trouble) error {
	business, err1 := p.Store.Business(ctx)
	rigs, err2 := p.Store.Rigs(ctx)
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	f := fault.Fields{}
	if t.Day.Before(business.Today(p.Now())) {
		f.Add("until", dayIsOver)
	}
	if t.Until.Before(t.Day) || t.Until.DaysSince(t.Day) > longestTrouble {
		f.Add("until", "Give a day from this one to %d days later.", longestTrouble)
	}
	if len(t.Rigs) == 0 {
		f.Add("rigs", "Choose at least one rig.")
	}
	for _, id := range t.Rigs {
		if !slices.ContainsFunc(rigs, func(r booking.Rig) bool { return r.ID == id && r.Active }) {
			f.Add("rigs", "Choose rigs that are in use.")
		}
	}
	f.Text("reason", t.Reason, 60, fault.Required)
	return f.Err()
}

// Resize takes in that a booking's mobs are not as large as was said, times
// its visits anew, and gives the order for the plan that makes use of it.
// heads are by mob, in the booking's order.
func (p *Planner) Resize(ctx context.Context, visit booking.ID, version int, heads []int) (Order, error) {
	v, err := p.Store.Visit(ctx, visit)
	if err != nil {
		return Order{}, err
	}
	if v.Version != version {
		return Order{}, fault.New(fault.Conflict, "This visit has changed since you looked at it. Nothing was done; here is how it stands now.")
	}
	if v.State == booking.SignedOff || v.State == booking.CalledOff {
		return Order{}, fault.Newf(fault.Conflict, "This visit is %s; its animals are counted.", v.State)
	}
	b, err := p.Store.Booking(ctx, v.BookingID)
	if err != nil {
		return Order{}, err
	}
	before := b.Head()
	if err := recount(&b, heads); err != nil {
		return Order{}, err
	}
	change := booking.BookingChange{Booking: &b, Verb: "recounted", Detail: fmt.Sprintf("%d head instead of %d", b.Head(), before)}
	if b.Head() < before { // more animals get their time from the plan
		if change.Visits, err = p.shorter(ctx, b, before); err != nil {
			return Order{}, err
		}
	}
	return mendOrder(v.Day, v.Day), p.Store.ChangeBooking(ctx, change)
}

func recount(b *booking.Booking, heads []int) error {
	f := fault.Fields{}
	b.Mobs = slices.Clone(b.Mobs)
	for i := range b.Mobs {
		if i >= len(heads) || heads[i] < 1 || heads[i] > booking.MaxHead {
			f.Add(fmt.Sprintf("head.%d", i), "Give the number of animals, from 1 to %d.", booking.MaxHead)
			continue
		}
		b.Mobs[i] = b.Mobs[i].WithHead(heads[i])
	}
	return f.Err()
}

// shorter gives the waiting visits of a booking the time that fewer animals
// take. What was not set up or packed for still is not.
func (p *Planner) shorter(ctx context.Context, b booking.Booking, before int) ([]*booking.Visit, error) {
	visits, err1 := p.Store.Visits(ctx, booking.VisitQuery{BookingID: b.ID, States: []booking.VisitState{booking.Pencilled, booking.Fixed, booking.UnderWay}})
	farm, err2 := p.Store.Farm(ctx, b.FarmID)
	yard, err3 := p.Store.Yard(ctx, b.YardID)
	if err := errors.Join(err1, err2, err3); err != nil {
		return nil, err
	}
	var all []*booking.Visit
	for _, v := range visits {
		rig, err := booking.GoingRig(ctx, p.Store, v.RigID, v.Day)
		if err != nil {
			return nil, err
		}
		v.Head = int(math.Round(float64(v.Head) * float64(b.Head()) / float64(before)))
		timed := v
		if err := p.Retime(&timed, b, farm, yard, rig); err != nil {
			return nil, err
		}
		v.Work, v.WorkLong = min(v.Work, timed.Work), min(v.WorkLong, timed.WorkLong)
		all = append(all, &v)
	}
	return all, nil
}
