package storetest

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"

	"cloud.google.com/go/civil"
)

var planChecks = []check{
	{"a visit comes back as it went in, in UTC to the millisecond", keepsVisits},
	{"visits are found by what is asked", findsVisits},
	{"a plan is stored whole or not at all", plansAllOrNothing},
	{"a plan rests on what it saw", plansRestOnWhatTheySaw},
	{"two visits change places", visitsChangePlaces},
	{"three visits go round, also over two rigs", visitsGoRound},
	{"a plan drops pencilled visits and no others", dropsVisits},
	{"of two plans for one visit the second is refused", refusesSecondPlan},
	{"a plan changes bookings along with visits", plansChangeBookings},
}

func keepsVisits(s *suite) {
	b, rig := s.booked(), s.rig()
	v := sample.Visit(b, rig, time.Date(2026, 4, 13, 8, 0, 0, 987654321, time.FixedZone("EDT", -4*3600)))
	v.Part, v.Parts, v.Head, v.Overnight, v.Lodged = 2, 3, 80, true, true
	v.SetUp, v.Work = 17*time.Minute+12*time.Second, 2*time.Hour+600*time.Millisecond
	s.must(s.plan(&v))
	got := found[booking.Visit](s)(s.Visit(s.ctx, v.ID))
	s.same("what came back and what was handed back", got, v)
	if want := time.Date(2026, 4, 13, 12, 0, 0, 987e6, time.UTC); !got.Arrive.Equal(want) || got.Arrive.Location() != time.UTC {
		s.Errorf("arrives %s, want %s", got.Arrive, want)
	}
	s.same("durations", []time.Duration{got.SetUp, got.Work, got.WorkLong, got.PackDown, got.WashDown},
		[]time.Duration{17*time.Minute + 12*time.Second, 2*time.Hour + time.Second, 3 * time.Hour, 20 * time.Minute, 30 * time.Minute})
	s.same("day and parts", []any{got.Day, got.Part, got.Parts, got.Head, got.Overnight, got.Lodged}, []any{sample.Day, 2, 3, 80, true, true})

	nameless := sample.Visit(b, rig, sample.Morning.AddDate(0, 0, 1))
	nameless.ID = ""
	s.must(s.plan(&nameless))
	if _, ok := booking.ParseID(string(nameless.ID)); !ok || nameless.Version != 1 {
		s.Errorf("a new visit got id %q and version %d", nameless.ID, nameless.Version)
	}
}

func findsVisits(s *suite) {
	farm, yard := s.farm()
	mine, other := s.bookedAt(farm, yard), s.booked()
	one, two := s.rig(), s.rig()
	tuesday := s.placed(mine, one, sample.Morning.AddDate(0, 0, 1))
	monday := s.placed(mine, one, sample.Morning)
	next := s.placed(other, two, sample.Morning.AddDate(0, 0, 2))
	monday.State = booking.Fixed
	s.must(s.plan(&monday))
	day := func(after int) civil.Date { return sample.Day.AddDays(after) }
	for what, c := range map[string]struct {
		query booking.VisitQuery
		want  []booking.Visit
	}{
		"all, by arrival":  {booking.VisitQuery{}, []booking.Visit{monday, tuesday, next}},
		"from":             {booking.VisitQuery{From: day(1)}, []booking.Visit{tuesday, next}},
		"to":               {booking.VisitQuery{To: day(1)}, []booking.Visit{monday, tuesday}},
		"one day":          {booking.VisitQuery{From: day(1), To: day(1)}, []booking.Visit{tuesday}},
		"of a rig":         {booking.VisitQuery{RigID: two.ID}, []booking.Visit{next}},
		"of a farm":        {booking.VisitQuery{FarmID: farm.ID}, []booking.Visit{monday, tuesday}},
		"of a booking":     {booking.VisitQuery{BookingID: other.ID}, []booking.Visit{next}},
		"fixed":            {booking.VisitQuery{States: []booking.VisitState{booking.Fixed}}, []booking.Visit{monday}},
		"at most one":      {booking.VisitQuery{Limit: 1}, []booking.Visit{monday}},
		"several at once":  {booking.VisitQuery{From: day(0), FarmID: farm.ID, RigID: one.ID, States: []booking.VisitState{booking.Pencilled}}, []booking.Visit{tuesday}},
		"of a strange rig": {booking.VisitQuery{RigID: booking.NewID()}, nil},
	} {
		s.same(what, idsOf(found[[]booking.Visit](s)(s.Visits(s.ctx, c.query)), visitID), idsOf(c.want, visitID))
	}
}

func plansAllOrNothing(s *suite) {
	b, rig := s.booked(), s.rig()
	there := s.placed(b, rig, sample.Morning)
	dropped := s.placed(b, rig, sample.Morning.AddDate(0, 0, 1))
	good := sample.Visit(b, rig, sample.Morning.AddDate(0, 0, 2))
	bad := sample.Visit(b, rig, sample.Morning.Add(time.Hour))
	waiting := b
	waiting.Attention = "waiting"
	err := s.ApplyPlan(s.ctx, booking.PlanChange{
		Save: []*booking.Visit{&good, &bad}, Bookings: []*booking.Booking{&waiting}, Drop: []booking.Visit{dropped}, Verb: "planned",
	})
	s.wants(fault.Conflict, err)
	s.same("visits", s.visits(), []booking.Visit{there, dropped})
	s.same("booking", found[booking.Booking](s)(s.Booking(s.ctx, b.ID)), b)
	s.same("versions handed back", []int{good.Version, bad.Version, waiting.Version}, []int{0, 0, b.Version})
}

func plansRestOnWhatTheySaw(s *suite) {
	farm, yard := s.farm()
	b, rig := s.bookedAt(farm, yard), s.rig()
	saw := map[booking.ID]int{b.ID: b.Version, yard.ID: yard.Version}
	plan := func() error {
		v := sample.Visit(b, rig, sample.Morning)
		return s.ApplyPlan(s.ctx, booking.PlanChange{Save: []*booking.Visit{&v}, RestsOn: saw, Verb: "planned"})
	}
	yard.GateWidth = 2
	s.must(s.SaveYard(s.ctx, &yard))
	s.wants(fault.Conflict, plan())
	saw[yard.ID] = yard.Version
	b.Note = "Half of them are sold."
	s.must(s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &b, Verb: "changed"}))
	s.wants(fault.Conflict, plan())
	saw[b.ID] = b.Version
	saw[booking.NewID()] = 1 // gone meanwhile
	s.wants(fault.Conflict, plan())
	s.same("visits", len(s.visits()), 0)
	saw = map[booking.ID]int{b.ID: b.Version, yard.ID: yard.Version}
	s.must(plan())
	s.same("visits", len(s.visits()), 1)
}

func visitsChangePlaces(s *suite) {
	b, rig := s.booked(), s.rig()
	early, late := s.placed(b, rig, sample.Morning), s.placed(b, rig, sample.Morning.Add(4*time.Hour))
	early.Arrive, late.Arrive = late.Arrive, early.Arrive
	s.must(s.plan(&early, &late))
	s.same("visits", s.visits(), []booking.Visit{late, early})
	s.same("versions", []int{early.Version, late.Version}, []int{2, 2})
}

func visitsGoRound(s *suite) {
	b, one, two := s.booked(), s.rig(), s.rig()
	first := s.placed(b, one, sample.Morning)
	second := s.placed(b, one, sample.Morning.Add(4*time.Hour))
	third := s.placed(b, two, sample.Morning)
	first.Arrive, second.Arrive, second.RigID, third.RigID, third.Arrive = second.Arrive, third.Arrive, two.ID, one.ID, first.Arrive
	s.must(s.plan(&first, &second, &third))
	for _, v := range []booking.Visit{first, second, third} {
		s.same("visit", found[booking.Visit](s)(s.Visit(s.ctx, v.ID)), v)
	}
	s.noOverlap()
}

func dropsVisits(s *suite) {
	b, rig := s.booked(), s.rig()
	pencilled, kept := s.placed(b, rig, sample.Morning), s.placed(b, rig, sample.Morning.Add(5*time.Hour))
	fixed := s.placed(b, rig, sample.Morning.AddDate(0, 0, 1))
	fixed.State = booking.Fixed
	s.must(s.plan(&fixed))
	drop := func(visits ...booking.Visit) error {
		return s.ApplyPlan(s.ctx, booking.PlanChange{Drop: visits, Verb: "cleared"})
	}
	s.wants(fault.Conflict, drop(pencilled, fixed)) // a promise is not dropped
	old := pencilled
	old.Version = 9
	s.wants(fault.Conflict, drop(old))
	s.same("visits", s.visits(), []booking.Visit{pencilled, kept, fixed})
	s.must(drop(pencilled))
	pencilled.State, pencilled.Version = booking.CalledOff, pencilled.Version+1
	s.same("visits after", s.visits(), []booking.Visit{pencilled, kept, fixed}) // events from a phone still find it
	s.wants(fault.Conflict, drop(pencilled))                                    // out already
	s.placed(b, rig, sample.Morning)                                            // its time is free again
}

func refusesSecondPlan(s *suite) {
	b, rig := s.booked(), s.rig()
	v := s.placed(b, rig, sample.Morning)
	first, second := v, v
	first.Arrive, second.Arrive = sample.Morning.Add(time.Hour), sample.Morning.Add(2*time.Hour)
	s.must(s.plan(&first))
	s.wants(fault.Conflict, s.plan(&second))
	s.must(s.ApplyPlan(s.ctx, booking.PlanChange{Drop: []booking.Visit{first}, Verb: "cleared"}))
	s.wants(fault.Conflict, s.plan(&second)) // dropped meanwhile: a change, not a mistake of the reader
	s.same("state", s.visits()[0].State, booking.CalledOff)
}

func plansChangeBookings(s *suite) {
	placed, left := s.booked(), s.booked()
	v := sample.Visit(placed, s.rig(), sample.Morning)
	placed.Attention, left.Attention = "", "No rig with a side tilt is free that week."
	s.must(s.ApplyPlan(s.ctx, booking.PlanChange{Save: []*booking.Visit{&v}, Bookings: []*booking.Booking{&placed, &left}, Verb: "planned"}))
	s.same("placed", found[booking.Booking](s)(s.Booking(s.ctx, placed.ID)), placed)
	s.same("left out", found[booking.Booking](s)(s.Booking(s.ctx, left.ID)), left)
	old := left
	old.Version = 1
	s.wants(fault.Conflict, s.ApplyPlan(s.ctx, booking.PlanChange{Bookings: []*booking.Booking{&old}, Verb: "planned"}))
}
