package storetest

import (
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var recordChecks = []check{
	{"everything that changes is in the record", recordsEveryChange},
	{"the record says who and when", recordsWhoAndWhen},
	{"what fails is not in the record", recordsNoFailure},
	{"reading leaves no line in the record", recordsNoReading},
	{"the record is found by kind, subject and time", findsChanges},
}

// line is what a check compares of a Change.
type line struct {
	verb, kind string
	subject    booking.ID
}

// since are the lines written by do, oldest first.
func (s *suite) since(do func() error) []line {
	s.Helper()
	before := len(found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Limit: 500})))
	s.must(do())
	after := found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Limit: 500}))
	lines := []line{}
	for i := len(after) - before - 1; i >= 0; i-- {
		lines = append(lines, line{after[i].Verb, after[i].Kind, after[i].Subject})
	}
	return lines
}

// recorded fails the check unless do writes exactly these lines.
func (s *suite) recorded(what string, do func() error, want ...line) {
	s.Helper()
	got := s.since(do)
	if len(got) != len(want) {
		s.Errorf("%s: lines %v, want %v", what, got, want)
		return
	}
	for i := range got {
		if got[i] != want[i] {
			s.Errorf("%s: line %d is %v, want %v", what, i, got[i], want[i])
		}
	}
}

func recordsEveryChange(s *suite) {
	business, person, farm := sample.Business(), sample.Person(booking.Owner), sample.Farm()
	rig, service := sample.Rig(), sample.Services()[0]
	yard := sample.Yard(farm)
	off := booking.DayOff{RigID: rig.ID, Date: sample.Day, Reason: "Workshop"}
	s.recorded("business", func() error { return s.SaveBusiness(s.ctx, &business) }, line{"added", "business", ""})
	s.recorded("business again", func() error { return s.SaveBusiness(s.ctx, &business) }, line{"changed", "business", ""})
	s.recorded("person", func() error { return s.SavePerson(s.ctx, &person) }, line{"added", "person", person.ID})
	s.recorded("person again", func() error { return s.SavePerson(s.ctx, &person) }, line{"changed", "person", person.ID})
	s.recorded("password", func() error { return s.SetPasswordHash(s.ctx, person.ID, "x") }, line{"set the password of", "person", person.ID})
	s.recorded("farm", func() error { return s.SaveFarm(s.ctx, &farm) }, line{"added", "farm", farm.ID})
	s.recorded("yard", func() error { return s.SaveYard(s.ctx, &yard) }, line{"added", "yard", yard.ID})
	s.recorded("rig", func() error { return s.SaveRig(s.ctx, &rig) }, line{"added", "rig", rig.ID})
	s.recorded("service", func() error { return s.SaveService(s.ctx, &service) }, line{"added", "service", "drench"})
	s.recorded("day off", func() error { return s.SaveDayOff(s.ctx, off) }, line{"kept at home", "rig", rig.ID})
	s.recorded("day off dropped", func() error { return s.DropDayOff(s.ctx, rig.ID, sample.Day) }, line{"let out again", "rig", rig.ID})
	s.recorded("nothing to drop", func() error { return s.DropDayOff(s.ctx, rig.ID, sample.Day) })
	recordsBookings(s, farm, yard, rig)
	recordsLinks(s, person)
}

func recordsBookings(s *suite, farm booking.Farm, yard booking.Yard, rig booking.Rig) {
	b := sample.Booking(farm, yard)
	add := func(farm booking.Farm, yard booking.Yard, b *booking.Booking) func() error {
		return func() error {
			return s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: b})
		}
	}
	s.recorded("booking", add(farm, yard, &b), line{"asked for", "booking", b.ID})
	fresh := sample.Farm()
	gate := sample.Yard(fresh)
	first := sample.Booking(fresh, gate)
	s.recorded("booking of a new farm", add(fresh, gate, &first),
		line{"added", "farm", fresh.ID}, line{"added", "yard", gate.ID}, line{"asked for", "booking", first.ID})
	s.recorded("booking changed", func() error {
		return s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &b, Verb: "withdrew"})
	}, line{"withdrew", "booking", b.ID})
	one, two := sample.Visit(b, rig, sample.Morning), sample.Visit(b, rig, sample.Morning.Add(5*time.Hour))
	s.recorded("one visit", func() error { return s.plan(&one) }, line{"placed", "visit", one.ID})
	s.recorded("a plan", func() error { return s.plan(&one, &two) }, line{"placed", "plan", ""})
}

func recordsLinks(s *suite, person booking.Person) {
	link, secret := sample.Link(booking.ToSignIn, person.ID, s.clock.start)
	spend := func() error {
		_, err := s.SpendLink(s.ctx, secret.Hash(), booking.ToSignIn, s.clock.start)
		return err
	}
	s.recorded("link", func() error { return s.AddLink(s.ctx, link) }, line{"made a link to sign in", "link", person.ID})
	s.recorded("link used", spend, line{"used the link to sign in", "link", person.ID})
}

func recordsWhoAndWhen(s *suite) {
	farm := sample.Farm()
	s.must(s.SaveFarm(s.ctx, &farm))
	who := booking.Actor{Kind: booking.ByFarmer, ID: farm.ID, Name: "Tamsin O'Whitlock"}
	before := s.clock.now()
	s.must(s.SaveFarm(booking.As(s.ctx, who), &farm))
	after := s.clock.now()
	got := found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Kind: "farm", Subject: farm.ID}))
	if len(got) != 2 {
		s.Fatalf("%d lines", len(got))
	}
	s.same("who", got[0].Who, who)
	s.same("the program itself", got[1].Who.Kind, booking.ByProgram)
	s.same("detail", got[0].Detail, farm.Name)
	if at := got[0].At; at.Before(before) || at.After(after) || at.Location() != time.UTC {
		s.Errorf("changed at %s, not from %s to %s", at, before, after)
	}
}

func recordsNoFailure(s *suite) {
	b, rig := s.booked(), s.rig()
	s.placed(b, rig, sample.Morning)
	farm := found[booking.Farm](s)(s.Farm(s.ctx, b.FarmID))
	failures := map[string]func() error{
		"old version": func() error { f := farm; f.Version = 7; return s.SaveFarm(s.ctx, &f) },
		"overlap":     func() error { v := sample.Visit(b, rig, sample.Morning.Add(time.Hour)); return s.plan(&v) },
		"change with an overlap": func() error {
			v := sample.Visit(b, rig, sample.Morning.Add(time.Hour))
			return s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &b, Visits: []*booking.Visit{&v}, Verb: "moved"})
		},
	}
	for what, fail := range failures {
		lines := s.since(func() error { s.wants(fault.Conflict, fail()); return nil })
		s.same(what, len(lines), 0)
	}
}

func recordsNoReading(s *suite) {
	link, secret := sample.Link(booking.ToBooking, booking.NewID(), s.clock.start)
	s.must(s.AddLink(s.ctx, link))
	s.recorded("reading", func() error {
		_, err := s.OpenLink(s.ctx, secret.Hash(), booking.ToBooking, s.clock.start)
		s.must(err)
		_, err = s.SpendLink(s.ctx, secret.Hash(), booking.ToBooking, s.clock.start) // not a link for one use
		s.must(err)
		_, err = s.Farms(s.ctx)
		return err
	})
}

func findsChanges(s *suite) {
	farm, yard := s.farm()
	for range 4 {
		s.must(s.SaveFarm(s.ctx, &farm))
	}
	query := func(q booking.ChangeQuery) []booking.Change {
		return found[[]booking.Change](s)(s.Changes(s.ctx, q))
	}
	all := query(booking.ChangeQuery{})
	s.same("all", len(all), 6)
	for i := 1; i < len(all); i++ {
		if !all[i].At.Before(all[i-1].At) {
			s.Errorf("line %d is not older than the one before", i)
		}
	}
	s.same("of the farm", len(query(booking.ChangeQuery{Kind: "farm", Subject: farm.ID})), 5)
	s.same("of yards", query(booking.ChangeQuery{Kind: "yard"})[0].Subject, yard.ID)
	s.same("newest two", query(booking.ChangeQuery{Limit: 2}), all[:2])
	s.same("older than the second", query(booking.ChangeQuery{Before: all[1].At}), all[2:])
	s.same("none", query(booking.ChangeQuery{Subject: booking.NewID()}), []booking.Change{})
}
