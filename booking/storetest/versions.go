package storetest

import (
	"strconv"
	"sync"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var versionChecks = []check{
	{"every save counts the version up", countsVersions},
	{"a save on an old version changes nothing", refusesOldVersions},
	{"a save of what is not there is not found", refusesUnknown},
	{"no save is lost among sixteen writers", losesNoSave},
}

// saver stores one kind of thing: save takes a version and a text to keep,
// gives the version after, and leaves the rest alone; text reads it back.
type saver struct {
	kind string
	save func(version int, text string) (int, error)
	text func() string
}

// savers has each kind that has a version, none of them stored yet.
func savers(s *suite) []saver {
	business, person, farm := sample.Business(), sample.Person(booking.Owner), sample.Farm()
	rig, service := sample.Rig(), sample.Services()[0]
	home, yard := s.farm()
	yard = sample.Yard(home)
	return []saver{
		{"business", func(v int, text string) (int, error) {
			b := business
			b.Name, b.Version = text, v
			err := s.SaveBusiness(s.ctx, &b)
			return b.Version, err
		}, func() string { return found[booking.Business](s)(s.Business(s.ctx)).Name }},
		{"person", func(v int, text string) (int, error) {
			p := person
			p.Name, p.Version = text, v
			err := s.SavePerson(s.ctx, &p)
			return p.Version, err
		}, func() string { return found[booking.Person](s)(s.Person(s.ctx, person.ID)).Name }},
		{"farm", func(v int, text string) (int, error) {
			f := farm
			f.Name, f.Version = text, v
			err := s.SaveFarm(s.ctx, &f)
			return f.Version, err
		}, func() string { return found[booking.Farm](s)(s.Farm(s.ctx, farm.ID)).Name }},
		{"yard", func(v int, text string) (int, error) {
			y := yard
			y.Name, y.Version = text, v
			err := s.SaveYard(s.ctx, &y)
			return y.Version, err
		}, func() string { return found[booking.Yard](s)(s.Yard(s.ctx, yard.ID)).Name }},
		{"rig", func(v int, text string) (int, error) {
			r := rig
			r.Name, r.Version = text, v
			err := s.SaveRig(s.ctx, &r)
			return r.Version, err
		}, func() string { return found[booking.Rig](s)(s.Rig(s.ctx, rig.ID)).Name }},
		{"service", func(v int, text string) (int, error) {
			c := service
			c.Name, c.Version = text, v
			err := s.SaveService(s.ctx, &c)
			return c.Version, err
		}, func() string { return found[[]booking.Service](s)(s.Services(s.ctx))[0].Name }},
		{"base time", func(v int, text string) (int, error) {
			b := baseTime("weigh", "ewe")
			b.Source, b.Version = text, v
			err := s.SaveBaseTime(s.ctx, &b)
			return b.Version, err
		}, func() string { return found[[]booking.BaseTime](s)(s.BaseTimes(s.ctx))[0].Source }},
		bookingSaver(s), visitSaver(s),
	}
}

// bookingSaver adds for version 0 and changes for any other.
func bookingSaver(s *suite) saver {
	farm, yard := s.farm()
	made, number := sample.Booking(farm, yard), 0
	return saver{"booking", func(v int, text string) (int, error) {
		b := made
		b.Note, b.Version, b.Number = text, v, number
		if v == 0 {
			err := s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b})
			number = b.Number
			return b.Version, err
		}
		err := s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &b, Verb: "changed"})
		return b.Version, err
	}, func() string { return found[booking.Booking](s)(s.Booking(s.ctx, made.ID)).Note }}
}

// visitSaver keeps the text as a number of head: visits hold no text.
func visitSaver(s *suite) saver {
	made := sample.Visit(s.booked(), s.rig(), sample.Morning)
	heads := map[int]string{}
	return saver{"visit", func(version int, text string) (int, error) {
		v := made
		v.Head, v.Version = len(text), version
		heads[v.Head] = text
		err := s.plan(&v)
		return v.Version, err
	}, func() string { return heads[found[booking.Visit](s)(s.Visit(s.ctx, made.ID)).Head] }}
}

func countsVersions(s *suite) {
	for _, k := range savers(s) {
		version := 0
		for want, text := range []string{"first", "the second", "and the third"} {
			var err error
			if version, err = k.save(version, text); err != nil {
				s.Fatalf("%s: %v", k.kind, err)
			}
			s.same(k.kind, version, want+1)
			s.same(k.kind, k.text(), text)
		}
	}
}

func refusesOldVersions(s *suite) {
	for _, k := range savers(s) {
		for version, text := range []string{"first", "the second"} {
			if _, err := k.save(version, text); err != nil {
				s.Fatalf("%s: %v", k.kind, err)
			}
		}
		before := len(found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Limit: 500})))
		for _, old := range []int{0, 1, 3} { // new again, behind, ahead
			version, err := k.save(old, "lost")
			if !fault.Is(err, fault.Conflict) || version != old {
				s.Errorf("%s: version %d became %d, %v", k.kind, old, version, err)
			}
			s.same(k.kind, k.text(), "the second")
		}
		after := len(found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Limit: 500})))
		s.same(k.kind+": lines in the record", after, before)
	}
}

func refusesUnknown(s *suite) {
	for _, k := range savers(s) {
		want := fault.NotFound
		if k.kind == "visit" {
			want = fault.Conflict // a plan rests on the visits it moves
		}
		if _, err := k.save(4, "never there"); !fault.Is(err, want) {
			s.Errorf("%s: %v", k.kind, err)
		}
	}
}

// losesNoSave has sixteen writers count one number up, each looking again
// whenever somebody else was faster.
func losesNoSave(s *suite) {
	const writers, each = 16, 4
	farm, _ := s.farm()
	farm.Notes = "0"
	s.must(s.SaveFarm(s.ctx, &farm))
	var all sync.WaitGroup
	for range writers {
		all.Go(func() {
			for done := 0; done < each; {
				f, err := s.Farm(s.ctx, farm.ID)
				if err == nil {
					n, _ := strconv.Atoi(f.Notes)
					f.Notes = strconv.Itoa(n + 1)
					err = s.SaveFarm(s.ctx, &f)
				}
				if err == nil {
					done++
				} else if !fault.Is(err, fault.Conflict) {
					s.Error(err)
					return
				}
			}
		})
	}
	all.Wait()
	got := found[booking.Farm](s)(s.Farm(s.ctx, farm.ID))
	s.same("count", got.Notes, strconv.Itoa(writers*each))
	s.same("version", got.Version, writers*each+2)
}
