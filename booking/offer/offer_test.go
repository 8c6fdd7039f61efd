package offer_test

import (
	"strings"
	"sync"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/offer"
	"drawbar/booking/pace"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/booking/store"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/routing"
)

// yard is a business with one rig, the Friday before the sample week.
type yard struct {
	*testing.T
	store    *store.Store
	offers   offer.Offers
	business booking.Business
	rig      booking.Rig
}

func newYard(t *testing.T, d *db.DB) *yard {
	t.Helper()
	clock := func() time.Time { return sample.Today.In(time.UTC).Add(15 * time.Hour) }
	model, err := pace.NewModel(pace.DefaultPriors(), nil)
	s := store.New(d, clock, nil)
	y := &yard{T: t, store: s, business: sample.Business(), rig: sample.Rig()}
	y.must(err)
	y.offers = offer.Offers{Store: s, Planner: schedule.New(s, routing.Estimator{}, model, clock)}
	person := sample.Person(booking.Operator)
	y.rig.Crew = []booking.ID{person.ID}
	y.must(s.SaveBusiness(t.Context(), &y.business))
	y.must(s.SavePerson(t.Context(), &person))
	for _, service := range booking.StandardServices() {
		y.must(s.SaveService(t.Context(), &service))
	}
	y.must(s.SaveRig(t.Context(), &y.rig))
	return y
}

func (y *yard) must(err error) {
	y.Helper()
	if err != nil {
		y.Fatal(err)
	}
}

// asked is a booking for one day, of a farm that was visited before or not.
func (y *yard) asked(been bool) booking.Booking {
	y.Helper()
	farm := sample.Farm()
	at := sample.Yard(farm)
	at.Lights = false
	ask := sample.Booking(farm, at, sample.Mob(60))
	ask.Mobs[0].Services = []string{"drench"}
	ask.Windows = []booking.Window{{From: sample.Day, To: sample.Day}}
	farm.Version, at.Version = 0, 0
	y.must(y.store.AddBooking(y.Context(), booking.NewBooking{Farm: &farm, Yard: &at, Booking: &ask}))
	if been {
		y.visited(ask)
	}
	return ask
}

// visited stores an old booking of the same farm, done and signed off.
func (y *yard) visited(ask booking.Booking) {
	y.Helper()
	farm, err := y.store.Farm(y.Context(), ask.FarmID)
	y.must(err)
	at, err := y.store.Yard(y.Context(), ask.YardID)
	y.must(err)
	old := sample.Booking(farm, at, sample.Mob(30))
	old.State = booking.Done
	y.must(y.store.AddBooking(y.Context(), booking.NewBooking{Farm: &farm, Yard: &at, Booking: &old}))
	all, err := y.store.Visits(y.Context(), booking.VisitQuery{})
	y.must(err)
	day := sample.Day.AddDays(-30 - len(all))
	v := booking.Visit{
		BookingID: old.ID, FarmID: old.FarmID, YardID: old.YardID, RigID: y.rig.ID, Day: day, Part: 1, Parts: 1, State: booking.SignedOff,
		Head: 30, Arrive: day.In(time.UTC).Add(14 * time.Hour), SetUp: 20 * time.Minute, Work: time.Hour, WorkLong: time.Hour, PackDown: 20 * time.Minute,
	}
	y.must(y.store.ApplyPlan(y.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "signed off"}))
}

func (y *yard) slots(b booking.Booking) []schedule.Slot {
	y.Helper()
	all, err := y.offers.For(y.Context(), b)
	y.must(err)
	return all
}

func TestWhoMayChoose(t *testing.T) {
	y := newYard(t, dbtest.SQLite(t))
	known, unknown := y.asked(true), y.asked(false)
	if len(y.slots(known)) != 1 {
		t.Errorf("%d slots on the one day that suits", len(y.slots(known)))
	}
	for name, b := range map[string]booking.Booking{
		"never visited": unknown, "to be looked at": changed(known, func(b *booking.Booking) { b.Attention = "Ring first." }),
		"agreed": changed(known, func(b *booking.Booking) { b.State = booking.Agreed }),
	} {
		if all := y.slots(b); len(all) > 0 {
			t.Errorf("%s: %d slots", name, len(all))
		}
	}
	y.business.FarmersChoose = false
	y.must(y.store.SaveBusiness(t.Context(), &y.business))
	if len(y.slots(known)) > 0 {
		t.Error("offered although the business decides by hand")
	}
}

func changed(b booking.Booking, change func(*booking.Booking)) booking.Booking {
	change(&b)
	return b
}

// Nothing is given away for tomorrow, into the dark or into overtime.
func TestWhatIsNotGivenAway(t *testing.T) {
	for name, change := range map[string]func(*yard, *booking.Booking){
		"tomorrow": func(_ *yard, b *booking.Booking) {
			b.Windows = []booking.Window{{From: sample.Today, To: sample.Today.AddDays(1)}}
		},
		"overtime": func(y *yard, _ *booking.Booking) { y.rig.DayEnd = y.rig.DayStart + 90 },
		"dark": func(y *yard, b *booking.Booking) {
			y.rig.DayStart, y.rig.DayEnd, b.Mobs[0].Head = 13*60, 23*60, 900
		},
	} {
		t.Run(name, func(t *testing.T) {
			y := newYard(t, dbtest.SQLite(t))
			y.rig.Workdays = []time.Weekday{0, 1, 2, 3, 4, 5, 6}
			b := y.asked(true)
			change(y, &b)
			y.must(y.store.SaveRig(t.Context(), &y.rig))
			y.must(y.store.ChangeBooking(t.Context(), booking.BookingChange{Booking: &b, Verb: "changed"}))
			all, err := y.offers.Planner.Slots(t.Context(), b.ID)
			y.must(err)
			if len(all) == 0 {
				t.Fatal("there is no slot at all, so nothing is shown")
			}
			if got := y.slots(b); len(got) > 0 {
				t.Errorf("offered: %+v", got)
			}
		})
	}
}

// A day taken is promised, in writing, and no longer to be had.
func TestTake(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		y := newYard(t, d)
		b, at := y.asked(true), schedule.Place{}
		at = y.slots(b)[0].Place
		if err := y.offers.Take(t.Context(), b.ID, b.Version+1, at); !fault.Is(err, fault.Conflict) {
			t.Errorf("an old version: %v", err)
		}
		odd := at
		odd.Minute += 7
		if err := y.offers.Take(t.Context(), b.ID, b.Version, odd); !fault.Is(err, fault.Conflict) || !strings.Contains(fault.Sentence(err), "gone") {
			t.Errorf("a time that was not offered: %v", err)
		}
		y.must(y.offers.Take(t.Context(), b.ID, b.Version, at))
		got, err := y.store.Booking(t.Context(), b.ID)
		y.must(err)
		visits, err := y.store.Visits(t.Context(), booking.VisitQuery{BookingID: b.ID})
		y.must(err)
		if got.State != booking.Agreed || len(visits) != 1 || visits[0].State != booking.Fixed || visits[0].Head != 60 || visits[0].Day != at.Day {
			t.Errorf("%s, %+v", got.State, visits)
		}
		letter, ok, err := y.store.ClaimNotice(t.Context(), sample.Today.AddDays(1).In(time.UTC))
		y.must(err)
		if !ok || !strings.Contains(letter.Subject, "we are coming on") {
			t.Errorf("the letter: %+v", letter)
		}
		if err := y.offers.Take(t.Context(), b.ID, got.Version, at); !fault.Is(err, fault.Conflict) {
			t.Errorf("taken twice: %v", err)
		}
	})
}

// Of farmers who take the same rig's day in the same moment, on days that hold
// one visit, exactly one gets it.
func TestTwoFarmersNeverGetTheSame(t *testing.T) {
	dbtest.Each(t, func(t *testing.T, d *db.DB) {
		y := newYard(t, d)
		const farmers = 6
		var asks []booking.Booking
		var at []schedule.Place
		for range farmers {
			asks = append(asks, y.asked(true))
		}
		for _, b := range asks {
			at = append(at, y.slots(b)[0].Place)
		}
		errs := make([]error, farmers)
		var all sync.WaitGroup
		for i, b := range asks {
			all.Go(func() { errs[i] = y.offers.Take(t.Context(), b.ID, b.Version, at[i]) })
		}
		all.Wait()
		won := 0
		for _, err := range errs {
			if err == nil {
				won++
			} else if !fault.Is(err, fault.Conflict) {
				t.Errorf("refused with %v", err)
			}
		}
		visits, err := y.store.Visits(t.Context(), booking.VisitQuery{States: []booking.VisitState{booking.Fixed}})
		y.must(err)
		if won != 1 || len(visits) != 1 {
			t.Errorf("%d were told yes, %d visits are fixed", won, len(visits))
		}
	})
}
