package schedule

import (
	"context"
	"fmt"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/pace"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Place is where somebody wants a visit by hand.
type Place struct {
	Rig    booking.ID
	Day    civil.Date
	Minute int // of arrival, after local midnight
}

// Clock is the time of arrival as a form takes it: "08:30".
func (pl Place) Clock() string { return say.Clock(pl.Minute) }

// Check says what is wrong with the entries, field by field.
func (pl Place) Check() error {
	f := fault.Fields{}
	if pl.Rig == "" {
		f.Add("rig", "Choose a rig.")
	}
	if !pl.Day.IsValid() {
		f.Add("day", "Give the day of the visit.")
	}
	if pl.Minute < 0 || pl.Minute >= 24*60 {
		f.Add("arrive", "Give the time of arrival, such as 08:30.")
	}
	return f.Err()
}

// Moved is a visit placed by hand, not yet stored, with the rules it breaks.
type Moved struct {
	Visit    booking.Visit
	Concerns []string
	verb     string
	booking  booking.Booking
	week     *world
}

// Move tries a visit at another place. The reader's version guards against
// moving what somebody else has moved meanwhile.
func (p *Planner) Move(ctx context.Context, id booking.ID, version int, to Place) (*Moved, error) {
	v, err := p.Store.Visit(ctx, id)
	switch {
	case err != nil:
		return nil, err
	case v.Version != version:
		return nil, fault.New(fault.Conflict, "This visit has changed since you looked at it. Here is how it stands now.")
	case v.State == booking.Fixed:
		return nil, fault.New(fault.Conflict, "This visit is fixed: the farmer was promised the day. Unfix it first, then move it and fix it anew.")
	case !v.State.Movable():
		return nil, fault.Newf(fault.Conflict, "This visit is %s and cannot be moved any more.", v.State)
	}
	return p.try(ctx, v, to, "moved")
}

// PlaceBooking tries a booking from the tray at a place, all in one visit.
func (p *Planner) PlaceBooking(ctx context.Context, id booking.ID, to Place) (*Moved, error) {
	b, err := p.Store.Booking(ctx, id)
	if err != nil {
		return nil, err
	}
	if !b.State.Open() {
		return nil, fault.Newf(fault.Conflict, "This booking is %s; there is nothing to place.", b.State)
	}
	visits, err := p.Store.Visits(ctx, booking.VisitQuery{BookingID: id, States: live})
	if err == nil && len(visits) > 0 {
		err = fault.New(fault.Conflict, "This booking has a day already; move its visit instead.")
	}
	if err != nil {
		return nil, err
	}
	return p.try(ctx, wholeVisit(b), to, "placed")
}

// wholeVisit is all of a booking in one visit that has no place yet.
func wholeVisit(b booking.Booking) booking.Visit {
	return booking.Visit{BookingID: b.ID, FarmID: b.FarmID, YardID: b.YardID, Part: 1, Parts: 1, Head: b.Head(), State: booking.Pencilled}
}

// try puts a visit where it should go and looks at its round.
func (p *Planner) try(ctx context.Context, v booking.Visit, to Place, verb string) (*Moved, error) {
	if err := to.Check(); err != nil {
		return nil, err
	}
	w, err := p.load(ctx, to.Day, to.Day)
	if err != nil {
		return nil, err
	}
	rig, err := w.rigFor(to)
	if err != nil {
		return nil, err
	}
	b, err := p.Store.Booking(ctx, v.BookingID)
	if err != nil {
		return nil, err
	}
	w.bookings[b.ID] = b
	v.RigID, v.Day, v.Arrive = rig.ID, to.Day, w.instant(to.Day, to.Minute*minute)
	if err := w.retime(&v, b, rig); err != nil {
		return nil, err
	}
	m := &Moved{Visit: v, verb: verb, booking: b, week: w}
	return m, w.judge(m)
}

// rigFor checks that the place can be meant.
func (w *world) rigFor(to Place) (booking.Rig, error) {
	f := fault.Fields{}
	rig, used := w.rig(to.Rig)
	if !used {
		f.Add("rig", "Choose a rig that is in use.")
	}
	if to.Day.Before(w.today()) {
		f.Add("day", "This day is over; choose one from today on.")
	}
	if err := f.Err(); err != nil {
		return booking.Rig{}, err
	}
	return rig, nil
}

// retime estimates a visit anew for those who go with the rig on its day,
// keeping its share of the booking.
func (w *world) retime(v *booking.Visit, b booking.Booking, rig booking.Rig) error {
	return timed(w.pace, v, b, w.farms[b.FarmID], w.yards[b.YardID], rig.Going(v.Day, w.people))
}

// Retime gives a visit the times it is expected to take with a rig and its
// crew.
func (p *Planner) Retime(v *booking.Visit, b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig) error {
	return timed(p.Pace.Model(), v, b, farm, yard, rig)
}

func timed(model *pace.Model, v *booking.Visit, b booking.Booking, farm booking.Farm, yard booking.Yard, rig booking.Rig) error {
	estimate, err := model.Estimate(Job(b.Mobs, yard, farm.Hygiene, rig, len(rig.Crew)))
	if err != nil {
		return fault.Wrap(fault.Invalid, err, rig.Name+" cannot do this: "+sentence(err))
	}
	t := timesOf(estimate)
	share := 1.0
	if head := b.Head(); v.Parts > 1 && head > 0 {
		share = float64(v.Head) / float64(head)
	}
	part := func(s int32) time.Duration {
		return time.Duration(float64(s) * share * float64(time.Second)).Round(time.Second)
	}
	v.SetUp, v.PackDown = time.Duration(t.SetUp)*time.Second, time.Duration(t.Pack)*time.Second
	v.Work, v.WorkLong = part(t.Work), part(t.Work+t.Late90)
	v.WashDown = time.Duration(hygiene().Home[farm.Hygiene]) * time.Second
	return nil
}

// judge lays the day out with the visit in it and collects the concerns. A
// visit at the same time with the same rig is refused, not a concern.
func (w *world) judge(m *Moved) error {
	w.visits = slices.DeleteFunc(w.visits, func(v booking.Visit) bool { return v.ID == m.Visit.ID && v.ID != "" })
	for _, v := range w.visits {
		if v.RigID == m.Visit.RigID && v.Arrive.Before(m.Visit.Leave()) && m.Visit.Arrive.Before(v.Leave()) {
			from, to := say.Minute(w.minute(v.Day, v.Arrive)), say.Minute(w.minute(v.Day, v.Leave()))
			return &fault.Error{Kind: fault.Invalid, Sentence: "The rig is taken at that time.", Fields: fault.Fields{
				"arrive": fmt.Sprintf("%s is at %s from %s to %s, and this takes %s. Choose another time or rig.",
					w.rigName(v.RigID), w.farms[v.FarmID].Name, from, to, say.Length(m.Visit.Leave().Sub(m.Visit.Arrive)))}}
		}
	}
	w.visits = append(w.visits, m.Visit)
	slices.SortFunc(w.visits, func(a, b booking.Visit) int { return a.Arrive.Compare(b.Arrive) })
	week := &Week{}
	w.fillDays(week)
	m.Concerns = w.concernsAround(&week.Days[0], m.Visit)
	return nil
}

// concernsAround are those of the visit and of the one after it.
func (w *world) concernsAround(d *Day, v booking.Visit) []string {
	var all []string
	for r := range d.Rounds {
		round := &d.Rounds[r]
		for i := range round.Stops {
			s := &round.Stops[i]
			if s.Visit.ID == v.ID && s.Visit.BookingID == v.BookingID {
				all = append(all, w.concerns(d, round, i)...)
				if i+1 < len(round.Stops) {
					all = append(all, w.tooSoon(round, i+1)...)
				}
			}
		}
	}
	return all
}

// Keep stores a visit placed by hand.
func (p *Planner) Keep(ctx context.Context, m *Moved) error {
	detail := fmt.Sprintf("%s to %s at %s with %s", m.week.farms[m.Visit.FarmID].Name, say.Day(m.Visit.Day),
		say.Minute(m.week.minute(m.Visit.Day, m.Visit.Arrive)), m.week.rigName(m.Visit.RigID))
	change := booking.PlanChange{Save: []*booking.Visit{&m.Visit}, Verb: m.verb, Detail: detail, RestsOn: map[booking.ID]int{}}
	if m.booking.State == booking.Offered {
		m.booking.State, m.booking.Attention = booking.Asked, "The day that was offered has moved; offer the new one."
		change.Bookings = []*booking.Booking{&m.booking}
	} else {
		change.RestsOn[m.booking.ID] = m.booking.Version
	}
	return p.Store.ApplyPlan(ctx, change)
}
