package schedule

import (
	"context"
	"errors"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/season"
	"drawbar/routing"

	"cloud.google.com/go/civil"
)

// world is all that a span of days rests on, read at one go.
type world struct {
	from, to  civil.Date // both included
	now       time.Time
	zone      *time.Location
	business  booking.Business
	rigs      []booking.Rig // in use
	people    map[booking.ID]booking.Person
	farms     map[booking.ID]booking.Farm
	yards     map[booking.ID]booking.Yard
	services  map[string]booking.Service
	bookings  map[booking.ID]booking.Booking
	open      []booking.Booking // asked, offered or agreed, oldest first
	visits    []booking.Visit   // live ones in the span, by arrival
	elsewhere map[booking.ID]bool
	before    map[booking.ID]booking.Visit // each rig's last live visit before the span
	off       map[rigDate]booking.DayOff
	travel    travel
	reports   map[booking.ID]Report // of today's visits that have begun
	pace      *pace.Model           // one for all estimates, whatever is learned meanwhile
}

type rigDate struct {
	rig booking.ID
	day civil.Date
}

func (w *world) today() civil.Date { return civil.DateOf(w.now.In(w.zone)) }

func (w *world) days() int { return w.to.DaysSince(w.from) + 1 }

// load reads the world of a span of days.
func (p *Planner) load(ctx context.Context, from, to civil.Date) (*world, error) {
	w := &world{from: from, to: to, now: p.Now(), pace: p.Pace.Model()}
	var err error
	if w.business, err = p.Store.Business(ctx); err != nil {
		return nil, err
	}
	w.zone = w.business.Location()
	steps := []func(context.Context, *world) error{p.loadCatalogue, p.loadHoldings, p.loadBookings, p.loadReports, p.loadTravel}
	for _, step := range steps {
		if err := step(ctx, w); err != nil {
			return nil, err
		}
	}
	return w, nil
}

// loadCatalogue reads rigs, people, services and days off.
func (p *Planner) loadCatalogue(ctx context.Context, w *world) error {
	rigs, err1 := p.Store.Rigs(ctx)
	people, err2 := p.Store.People(ctx)
	services, err3 := p.Store.Services(ctx)
	off, err4 := p.Store.DaysOff(ctx, w.from, w.to)
	if err := errors.Join(err1, err2, err3, err4); err != nil {
		return err
	}
	w.rigs = slices.DeleteFunc(rigs, func(r booking.Rig) bool { return !r.Active })
	w.people = booking.PeopleByID(people)
	w.services = booking.ByCode(services)
	w.off = byRigDate(off)
	return nil
}

func byRigDate(off []booking.DayOff) map[rigDate]booking.DayOff {
	all := map[rigDate]booking.DayOff{}
	for _, d := range off {
		all[rigDate{d.RigID, d.Date}] = d
	}
	return all
}

func (p *Planner) loadHoldings(ctx context.Context, w *world) error {
	farms, err1 := p.Store.Farms(ctx)
	yards, err2 := p.Store.Yards(ctx, "")
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	w.farms = byID(farms, func(f booking.Farm) booking.ID { return f.ID })
	w.yards = byID(yards, func(y booking.Yard) booking.ID { return y.ID })
	return nil
}

// loadBookings reads the open bookings, the span's visits and whatever
// bookings those are for.
func (p *Planner) loadBookings(ctx context.Context, w *world) error {
	open, err1 := p.Store.Bookings(ctx, booking.BookingQuery{States: []booking.State{booking.Asked, booking.Offered, booking.Agreed}, Limit: 10_000})
	visits, err2 := p.Store.Visits(ctx, booking.VisitQuery{From: w.from, To: w.to, States: live})
	if err := errors.Join(err1, err2); err != nil {
		return err
	}
	w.open, w.visits = open, visits
	w.bookings = byID(open, func(b booking.Booking) booking.ID { return b.ID })
	if err := p.loadOtherBookings(ctx, w); err != nil {
		return err
	}
	return p.loadElsewhere(ctx, w)
}

var live = []booking.VisitState{booking.Pencilled, booking.Fixed, booking.UnderWay, booking.SignedOff}

// loadOtherBookings reads the done bookings that visits of the span are for.
func (p *Planner) loadOtherBookings(ctx context.Context, w *world) error {
	var missing []booking.ID
	for _, v := range w.visits {
		if _, ok := w.bookings[v.BookingID]; !ok && !slices.Contains(missing, v.BookingID) {
			missing = append(missing, v.BookingID)
		}
	}
	if len(missing) == 0 {
		return nil
	}
	others, err := p.Store.Bookings(ctx, booking.BookingQuery{IDs: missing, Limit: 10_000})
	for _, b := range others {
		w.bookings[b.ID] = b
	}
	return err
}

// loadElsewhere notes the open bookings that have a live visit outside the
// span: their day is not this plan's to choose.
func (p *Planner) loadElsewhere(ctx context.Context, w *world) error {
	w.elsewhere = map[booking.ID]bool{}
	before, err1 := p.Store.Visits(ctx, booking.VisitQuery{From: w.from.AddDays(-60), To: w.from.AddDays(-1), States: live})
	after, err2 := p.Store.Visits(ctx, booking.VisitQuery{From: w.to.AddDays(1), States: live})
	w.before = map[booking.ID]booking.Visit{}
	for _, v := range before {
		w.before[v.RigID] = v
	}
	for _, v := range append(before, after...) {
		w.elsewhere[v.BookingID] = true
	}
	return errors.Join(err1, err2)
}

func compare(a, b booking.ID) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func byID[T any](all []T, id func(T) booking.ID) map[booking.ID]T {
	m := make(map[booking.ID]T, len(all))
	for _, t := range all {
		m[id(t)] = t
	}
	return m
}

// leg is the drive between two places by id; zero and unreachable for unknown
// ones.
func leg(t *routing.Table, from, to string) routing.Leg {
	i, ok1 := t.Index(from)
	j, ok2 := t.Index(to)
	if !ok1 || !ok2 {
		return routing.Leg{}
	}
	return t.At(i, j)
}

// offReason says why a rig does not go out on a day; "" when it may.
func (w *world) offReason(rig booking.Rig, day civil.Date) string {
	if off, known := w.off[rigDate{rig.ID, day}]; known && off.AllDay() {
		return off.Reason
	}
	if !rig.Works(day) {
		return "not a working day"
	}
	if name, is := season.Holiday(w.business.Country, day); is && rig.Rests {
		return "public holiday, " + name
	}
	return w.allAway(rig, day)
}
