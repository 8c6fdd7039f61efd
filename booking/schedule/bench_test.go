package schedule_test

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/routing"
)

// bench is a business with one rig, on the Friday before the sample week.
type bench struct {
	*testing.T
	store   *store.Store
	planner *schedule.Planner
	rig     booking.Rig
	now     time.Time
}

func newBench(t *testing.T) *bench {
	t.Helper()
	return benchOn(t, dbtest.SQLite(t))
}

func benchOn(t *testing.T, d *db.DB) *bench {
	t.Helper()
	b := &bench{T: t, now: sample.Today.In(time.UTC).Add(15 * time.Hour)}
	clock := func() time.Time { return b.now }
	b.store = store.New(d, clock, nil)
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	b.must(err)
	b.planner = schedule.New(b.store, routing.Estimator{}, model, clock)
	business, person := sample.Business(), sample.Person(booking.Operator)
	b.must(b.store.SaveBusiness(t.Context(), &business))
	b.must(b.store.SavePerson(t.Context(), &person))
	for _, s := range booking.StandardServices() {
		b.must(b.store.SaveService(t.Context(), &s))
	}
	b.rig = sample.Rig()
	b.rig.Crew = []booking.ID{person.ID}
	b.must(b.store.SaveRig(t.Context(), &b.rig))
	return b
}

func (b *bench) must(err error) {
	b.Helper()
	if err != nil {
		b.Fatal(err)
	}
}

// asked stores a booking at a yard of its own, changed as the test wants.
func (b *bench) asked(head int, change func(*booking.Farm, *booking.Yard, *booking.Booking)) booking.Booking {
	b.Helper()
	farm := sample.Farm()
	yard := sample.Yard(farm)
	ask := sample.Booking(farm, yard, sample.Mob(head))
	ask.Mobs[0].Services = []string{"drench"}
	farm.Version, yard.Version = 0, 0
	if change != nil {
		change(&farm, &yard, &ask)
	}
	b.must(b.store.AddBooking(b.Context(), booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &ask}))
	return ask
}

// propose plans the sample week.
func (b *bench) propose() *schedule.Proposal {
	b.Helper()
	p, err := b.planner.Propose(b.Context(), sample.Day, 7, schedule.Search{Seed: 1, Iterations: 300})
	b.must(err)
	return p
}

// found asks for a plan of the sample week and has it worked.
func (b *bench) found() *schedule.Found {
	b.Helper()
	order, err := b.planner.Ask(b.Context(), schedule.Order{From: sample.Day, Days: 7, Seed: 1, Iterations: 300})
	b.must(err)
	b.must(b.planner.Work(b.Context(), order.ID))
	f, err := b.planner.Found(b.Context(), order.ID)
	b.must(err)
	return f
}

// accepted accepts a plan, or the bookings named of it.
func (b *bench) accepted(f *schedule.Found, units ...booking.ID) {
	b.Helper()
	_, err := b.planner.Accept(b.Context(), f.Planning.ID, units...)
	b.must(err)
}

// applied plans and accepts all of it.
func (b *bench) applied() *schedule.Found {
	b.Helper()
	f := b.found()
	if len(f.Plan.Moves) > 0 {
		b.accepted(f)
	}
	return f
}

func (b *bench) visits() []booking.Visit {
	b.Helper()
	visits, err := b.store.Visits(b.Context(), booking.VisitQuery{})
	b.must(err)
	return visits
}

func (b *bench) week() *schedule.Week {
	b.Helper()
	w, err := b.planner.Week(b.Context(), sample.Day, 7)
	b.must(err)
	return w
}
