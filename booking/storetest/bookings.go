package storetest

import (
	"slices"
	"sync"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"

	"cloud.google.com/go/civil"
)

var bookingChecks = []check{
	{"a booking comes back as it went in", keepsBookings},
	{"a booking brings its new farm and yard", addsHoldings},
	{"a booking is stored whole or not at all", addsAllOrNothing},
	{"bookings number without a gap among sixteen writers", numbersBookings},
	{"bookings are found by what is asked", findsBookings},
	{"a changed booking comes back as it was changed", changesBookings},
	{"a change is stored whole or not at all", changesAllOrNothing},
}

func keepsBookings(s *suite) {
	farm, yard := s.farm()
	ewes, kids := sample.Mob(240), sample.Mob(3)
	ewes.MixedSizes, ewes.FullWool, ewes.MalesIn, ewes.MalesOut = true, true, civil.Date{Year: 2025, Month: 10, Day: 20}, civil.Date{Year: 2025, Month: 12, Day: 1}
	kids.Class, kids.Species, kids.Horned, kids.NewToCrate, kids.AtFoot = booking.Kid, booking.Goat, true, true, true
	kids.Services = []string{"weigh", "drench"}
	ewes.Weights = []booking.WeightClass{{Head: 200, Kg: 72.5}, {Head: 40, Kg: 90}}
	b := sample.Booking(farm, yard, ewes, kids)
	b.Windows = append(b.Windows, booking.Window{From: sample.Day.AddDays(20), To: sample.Day.AddDays(20), Part: booking.Afternoon})
	b.Created = time.Date(2026, 4, 10, 8, 15, 30, 123456789, time.FixedZone("EDT", -4*3600))
	s.must(s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b}))
	got := found[booking.Booking](s)(s.Booking(s.ctx, b.ID))
	s.same("what came back and what was handed back", got, b)
	s.same("first number and version", []int{got.Number, got.Version}, []int{1, 1})
	s.same("mobs", got.Mobs, []booking.Mob{ewes, kids})
	if want := time.Date(2026, 4, 10, 12, 15, 30, 123e6, time.UTC); !got.Created.Equal(want) || got.Created.Location() != time.UTC {
		s.Errorf("created %s, want %s", got.Created, want)
	}
}

func addsHoldings(s *suite) {
	farm := sample.Farm()
	yard := sample.Yard(farm)
	b := sample.Booking(farm, yard)
	farm.ID, yard.ID, yard.FarmID, b.ID, b.FarmID, b.YardID, b.Mobs[0].ID = "", "", "", "", "", "", ""
	link, secret := sample.Link(booking.ToBooking, b.ID, s.clock.start)
	s.must(s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b, Links: []booking.Link{link}}))
	s.same("farm", found[booking.Farm](s)(s.Farm(s.ctx, farm.ID)), farm)
	s.same("yard", found[booking.Yard](s)(s.Yard(s.ctx, yard.ID)), yard)
	s.same("booking", found[booking.Booking](s)(s.Booking(s.ctx, b.ID)), b)
	s.same("versions", []int{farm.Version, yard.Version, b.Version}, []int{1, 1, 1})
	s.same("owners", []booking.ID{yard.FarmID, b.FarmID, b.YardID}, []booking.ID{farm.ID, farm.ID, yard.ID})
	found[booking.Link](s)(s.OpenLink(s.ctx, secret.Hash(), booking.ToBooking, s.clock.start))

	second := sample.Booking(farm, yard) // the farm is on file now and stays as it is
	s.must(s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &second}))
	s.same("second number", second.Number, 2)
	s.same("farms", len(found[[]booking.Farm](s)(s.Farms(s.ctx))), 1)
	s.same("farm's version", farm.Version, 1)
}

func addsAllOrNothing(s *suite) {
	taken, _ := s.link(booking.ToBooking)
	farm := sample.Farm()
	yard := sample.Yard(farm)
	b := sample.Booking(farm, yard)
	err := s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b, Links: []booking.Link{taken}})
	s.wants(fault.Conflict, err)
	s.same("versions after the failure", []int{farm.Version, yard.Version, b.Version}, []int{0, 0, 0})
	s.same("farms", len(found[[]booking.Farm](s)(s.Farms(s.ctx))), 0)
	s.same("bookings", len(found[[]booking.Booking](s)(s.Bookings(s.ctx, booking.BookingQuery{}))), 0)
	s.must(s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b})) // the same values can be tried again
	s.same("number", b.Number, 1)
}

func numbersBookings(s *suite) {
	const writers, each = 16, 4
	var mu sync.Mutex
	var numbers []int
	var all sync.WaitGroup
	for range writers {
		all.Go(func() {
			for range each {
				farm := sample.Farm()
				yard := sample.Yard(farm)
				b := sample.Booking(farm, yard)
				if err := s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b}); err != nil {
					s.Error(err)
					return
				}
				mu.Lock()
				numbers = append(numbers, b.Number)
				mu.Unlock()
			}
		})
	}
	all.Wait()
	slices.Sort(numbers)
	for i, n := range numbers {
		if n != i+1 {
			s.Fatalf("numbers %v", numbers)
		}
	}
	s.same("bookings", len(found[[]booking.Booking](s)(s.Bookings(s.ctx, booking.BookingQuery{}))), writers*each)
}

func findsBookings(s *suite) {
	farm, yard := s.farm()
	first, second, other := s.bookedAt(farm, yard), s.bookedAt(farm, yard), s.booked()
	second.State = booking.Agreed
	s.must(s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &second, Verb: "agreed"}))
	query := func(q booking.BookingQuery) []booking.ID {
		return idsOf(found[[]booking.Booking](s)(s.Bookings(s.ctx, q)), bookingID)
	}
	s.same("all, oldest first", query(booking.BookingQuery{}), []booking.ID{first.ID, second.ID, other.ID})
	s.same("of the farm", query(booking.BookingQuery{FarmID: farm.ID}), []booking.ID{first.ID, second.ID})
	s.same("asked", query(booking.BookingQuery{States: []booking.State{booking.Asked, booking.Done}}), []booking.ID{first.ID, other.ID})
	s.same("by id", query(booking.BookingQuery{IDs: []booking.ID{other.ID, first.ID}}), []booking.ID{first.ID, other.ID})
	s.same("by no id", query(booking.BookingQuery{IDs: []booking.ID{}}), []booking.ID{})
	s.same("at most two", query(booking.BookingQuery{Limit: 2}), []booking.ID{first.ID, second.ID})
	s.same("all at once", query(booking.BookingQuery{FarmID: farm.ID, States: []booking.State{booking.Agreed}, IDs: []booking.ID{second.ID}}), []booking.ID{second.ID})
}

func changesBookings(s *suite) {
	b := s.booked(sample.Mob(100), sample.Mob(20))
	v := s.placed(b, s.rig(), sample.Morning)
	number := b.Number
	b.Mobs = []booking.Mob{b.Mobs[1], sample.Mob(7)} // one goes, one stays, one comes
	b.State, b.Priority, b.Note, b.Windows = booking.Agreed, booking.ComesFirst, "", []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.Morning}}
	v.State = booking.Fixed
	link, secret := sample.Link(booking.ToBooking, b.ID, s.clock.start)
	s.must(s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &b, Visits: []*booking.Visit{&v}, Links: []booking.Link{link}, Verb: "fixed"}))
	s.same("booking", found[booking.Booking](s)(s.Booking(s.ctx, b.ID)), b)
	s.same("visit", found[booking.Visit](s)(s.Visit(s.ctx, v.ID)), v)
	s.same("number and versions", []int{b.Number, b.Version, v.Version}, []int{number, 2, 2})
	s.same("head", b.Head(), 27)
	found[booking.Link](s)(s.OpenLink(s.ctx, secret.Hash(), booking.ToBooking, s.clock.start))
}

func changesAllOrNothing(s *suite) {
	b, rig := s.booked(), s.rig()
	s.placed(b, rig, sample.Morning)
	late := s.placed(b, rig, sample.Morning.Add(6*time.Hour))
	before := found[booking.Booking](s)(s.Booking(s.ctx, b.ID))
	taken, _ := s.link(booking.ToBooking)

	changed, moved := before, late
	changed.State, changed.Mobs = booking.Agreed, []booking.Mob{sample.Mob(1)}
	moved.Arrive = sample.Morning.Add(time.Hour)
	stale := late
	stale.Version = 9
	gone := sample.Visit(b, rig, sample.Morning.AddDate(0, 0, 3))
	gone.Version = 1
	for what, change := range map[string]booking.BookingChange{
		"a visit that overlaps":      {Booking: &changed, Visits: []*booking.Visit{&moved}},
		"a visit of another version": {Booking: &changed, Visits: []*booking.Visit{&stale}},
		"a visit dropped meanwhile":  {Booking: &changed, Visits: []*booking.Visit{&gone}},
		"a link that is taken":       {Booking: &changed, Links: []booking.Link{taken}},
	} {
		s.wants(fault.Conflict, s.ChangeBooking(s.ctx, change))
		s.same(what+": version handed back", changed.Version, before.Version)
		s.same(what, found[booking.Booking](s)(s.Booking(s.ctx, b.ID)), before)
		s.same(what+": visit", found[booking.Visit](s)(s.Visit(s.ctx, late.ID)), late)
	}
}
