package booking_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
)

// wrong is one way to spoil something that is fine, and the fields that the
// check has to name; none for a change that is fine too.
type wrong[T any] struct {
	name   string
	spoil  func(*T)
	fields string
}

// checkEach holds a check to a list of wrongs. What it says has to be a whole
// sentence, for the field that is meant and for no other.
func checkEach[T any](t *testing.T, fine func() T, check func(T) error, wrongs []wrong[T]) {
	t.Helper()
	for _, w := range append(wrongs, wrong[T]{"as it is", func(*T) {}, ""}) {
		t.Run(w.name, func(t *testing.T) {
			v := fine()
			w.spoil(&v)
			err := check(v)
			if w.fields == "" {
				if err != nil {
					t.Errorf("refused: %v", fault.FieldsOf(err))
				}
				return
			}
			if !fault.Is(err, fault.Invalid) {
				t.Fatalf("got %v", err)
			}
			got := fault.FieldsOf(err)
			want := strings.Fields(w.fields)
			if len(got) != len(want) {
				t.Errorf("names %v, want %v", got, want)
			}
			for _, field := range want {
				if says := got[field]; !strings.HasSuffix(says, ".") || says[0] < 'A' || says[0] > 'Z' {
					t.Errorf("%s: %q is not a sentence", field, says)
				}
			}
		})
	}
}

func ExampleBooking_Check() {
	b := booking.Booking{Mobs: []booking.Mob{{Class: booking.Ewe, Head: -3}}}
	today := civil.Date{Year: 2026, Month: 4, Day: 10}
	fields := fault.FieldsOf(b.Check(nil, today))
	fmt.Println(fields["mob.0.head"])
	fmt.Println(fields["windows"])
	// Output:
	// Give the number of animals, from 1 to 20000.
	// Give from 1 to 10 spans of days that suit.
}

func TestBusinessCheck(t *testing.T) {
	checkEach(t, sample.Business, booking.Business.Check, []wrong[booking.Business]{
		{"empty", func(b *booking.Business) { *b = booking.Business{} }, "name home_name email zone country currency home"},
		{"only what is needed", func(b *booking.Business) { b.Address, b.Phone, b.TaxID = "", "", "" }, ""},
		{"a zone by its letters", func(b *booking.Business) { b.Zone = "Delmarva" }, "zone"},
		{"the machine's own zone", func(b *booking.Business) { b.Zone = "Local" }, "zone"},
		{"a path for a zone", func(b *booking.Business) { b.Zone = "../../etc/passwd" }, "zone"},
		{"a country in words", func(b *booking.Business) { b.Country = "Ireland" }, "country"},
		{"small letters", func(b *booking.Business) { b.Country, b.Currency = "ie", "eur" }, "country currency"},
		{"letters of another script", func(b *booking.Business) { b.Country = "И" }, "country"}, // two bytes
		{"off the Earth", func(b *booking.Business) { b.Home = orb.Point{-75, 91} }, "home"},
		{"nowhere", func(b *booking.Business) { b.Home = orb.Point{math.NaN(), 38} }, "home"},
		{"a long name", func(b *booking.Business) { b.Name = strings.Repeat("x", 121) }, "name"},
		{"a broken address", func(b *booking.Business) { b.Address = "\xff" }, "address"},
	})
}

func TestPersonCheck(t *testing.T) {
	fine := func() booking.Person { return sample.Person(booking.Operator) }
	checkEach(t, fine, booking.Person.Check, []wrong[booking.Person]{
		{"empty", func(p *booking.Person) { *p = booking.Person{} }, "name email role"},
		{"all skills", func(p *booking.Person) { p.Skills = booking.Skills }, ""},
		{"a skill we do not know", func(p *booking.Person) { p.Skills = []booking.Skill{booking.SkillScan, "juggle"} }, "skills"},
		{"a role we do not know", func(p *booking.Person) { p.Role = "admin" }, "role"},
		{"two addresses", func(p *booking.Person) { p.Email = "a@example.com,b@example.com" }, "email"},
		{"a long number", func(p *booking.Person) { p.Phone = strings.Repeat("0", 41) }, "phone"},
	})
}

func TestFarmCheck(t *testing.T) {
	checkEach(t, sample.Farm, booking.Farm.Check, []wrong[booking.Farm]{
		{"empty", func(f *booking.Farm) { *f = booking.Farm{} }, "name email"},
		{"2000 characters of notes", func(f *booking.Farm) { f.Notes = strings.Repeat("羊", 2000) }, ""},
		{"2001 characters of notes", func(f *booking.Farm) { f.Notes = strings.Repeat("羊", 2001) }, "notes"},
		{"a class above", func(f *booking.Farm) { f.Hygiene = booking.KnownInfected + 1 }, "hygiene"},
		{"a class below", func(f *booking.Farm) { f.Hygiene = -1 }, "hygiene"},
		{"not text", func(f *booking.Farm) { f.Contact, f.Address, f.TaxID, f.Phone = "\xff", "\xff", "\xff", "\xff" }, "contact address tax_id phone"},
	})
}

func TestYardCheck(t *testing.T) {
	fine := func() booking.Yard { return sample.Yard(sample.Farm()) }
	checkEach(t, fine, booking.Yard.Check, []wrong[booking.Yard]{
		{"empty", func(y *booking.Yard) { *y = booking.Yard{} }, "name position surface"},
		{"nothing measured", func(y *booking.Yard) { y.GateWidth, y.TrainLength = 0, 0 }, ""},
		{"beyond measure", func(y *booking.Yard) { y.GateWidth, y.TrainLength = 31, 41 }, "gate_width train_length"},
		{"less than nothing", func(y *booking.Yard) { y.GateWidth, y.TrainLength = -1, math.Inf(-1) }, "gate_width train_length"},
		{"not numbers", func(y *booking.Yard) { y.GateWidth, y.TrainLength = math.NaN(), math.NaN() }, "gate_width train_length"},
		{"latitude first", func(y *booking.Yard) { y.At = orb.Point{38.91, -95.5} }, "position"},
		{"water", func(y *booking.Yard) { y.Surface = "water" }, "surface"},
		{"a long way in", func(y *booking.Yard) { y.Access = strings.Repeat("left ", 201) }, "access"},
	})
}

func TestRigCheck(t *testing.T) {
	checkEach(t, sample.Rig, booking.Rig.Check, []wrong[booking.Rig]{
		{"empty", func(r *booking.Rig) { *r = booking.Rig{} }, "name mount race_places mass length width height workdays day_end"},
		{"by hand, on a skid", func(r *booking.Rig) { r.SortGates, r.Mount = 0, booking.OnSkid }, ""},
		{"four gates", func(r *booking.Rig) { r.SortGates = 4 }, "sort_gates"},
		{"in pounds and feet", func(r *booking.Rig) { r.Mass, r.Length, r.Width = 44001, 41, 8 }, "mass length width"},
		{"not a number", func(r *booking.Rig) { r.Height = math.NaN() }, "height"},
		{"no race", func(r *booking.Rig) { r.RacePlaces = 0 }, "race_places"},
		{"to midnight", func(r *booking.Rig) { r.DayEnd = 24 * 60 }, ""},
		{"past midnight", func(r *booking.Rig) { r.DayEnd = 24*60 + 1 }, "day_end"},
		{"home before it leaves", func(r *booking.Rig) { r.DayEnd = r.DayStart }, "day_end"},
		{"before the day", func(r *booking.Rig) { r.DayStart = -1 }, "day_start"},
		{"never out", func(r *booking.Rig) { r.Workdays = nil }, "workdays"},
	})
}

func TestServiceCheck(t *testing.T) {
	fine := func() booking.Service { return sample.Services()[0] }
	checkEach(t, fine, booking.Service.Check, []wrong[booking.Service]{
		{"empty", func(s *booking.Service) { *s = booking.Service{} }, "code name"},
		{"a code of two words", func(s *booking.Service) { s.Code = "foot-trim" }, ""},
		{"a code with a space", func(s *booking.Service) { s.Code = "foot trim" }, "code"},
		{"capitals", func(s *booking.Service) { s.Code = "Drench" }, "code"},
		{"a code of two lines", func(s *booking.Service) { s.Code = "drench\n" }, "code"},
		{"a code to get out of a folder", func(s *booking.Service) { s.Code = "../x" }, "code"},
		{"31 letters", func(s *booking.Service) { s.Code = strings.Repeat("a", 31) }, "code"},
		{"30 letters", func(s *booking.Service) { s.Code = strings.Repeat("a", 30) }, ""},
		{"a skill we do not know", func(s *booking.Service) { s.Skill = "juggle" }, "skill"},
		{"gates below none", func(s *booking.Service) { s.SortGates = -1 }, "sort_gates"},
		{"much advice", func(s *booking.Service) { s.Advice = strings.Repeat("x", 401) }, "advice"},
	})
}

func TestMobCheck(t *testing.T) {
	withdrawn := booking.Service{Code: "dip", Name: "Dip"}
	known := booking.ByCode(append(sample.Services(), withdrawn))
	check := func(m booking.Mob) error { return m.Check(known).Err() }
	in := civil.Date{Year: 2025, Month: 11, Day: 5}
	checkEach(t, func() booking.Mob { return sample.Mob(240) }, check, []wrong[booking.Mob]{
		{"empty", func(m *booking.Mob) { *m = booking.Mob{} }, "class head services"},
		{"one head", func(m *booking.Mob) { m.Head = 1 }, ""},
		{"the most", func(m *booking.Mob) { m.Head = booking.MaxHead }, ""},
		{"none", func(m *booking.Mob) { m.Head = 0 }, "head"},
		{"less than none", func(m *booking.Mob) { m.Head = -240 }, "head"},
		{"too many", func(m *booking.Mob) { m.Head = booking.MaxHead + 1 }, "head"},
		{"cows", func(m *booking.Mob) { m.Class = "cow" }, "class"},
		{"a service nobody knows", func(m *booking.Mob) { m.Services = []string{"shear"} }, "services"},
		{"a service no longer offered", func(m *booking.Mob) { m.Services = []string{"drench", "dip"} }, "services"},
		{"a service twice", func(m *booking.Mob) { m.Services = []string{"drench", "weigh", "drench"} }, "services"},
		{"males in and out", func(m *booking.Mob) { m.MalesIn, m.MalesOut = in, in.AddDays(34) }, ""},
		{"in and out on a day", func(m *booking.Mob) { m.MalesIn, m.MalesOut = in, in }, ""},
		{"in on no day", func(m *booking.Mob) { m.MalesIn = civil.Date{Year: 2026, Month: 2, Day: 30} }, "males_in"},
		{"in long ago", func(m *booking.Mob) { m.MalesIn = civil.Date{Year: 26, Month: 2, Day: 3} }, "males_in"},
		{"out before in", func(m *booking.Mob) { m.MalesIn, m.MalesOut = in, in.AddDays(-1) }, "males_out"},
		{"still in", func(m *booking.Mob) { m.MalesIn = in }, ""},
	})
}

func TestBookingCheck(t *testing.T) {
	known := booking.ByCode(sample.Services())
	fine := func() booking.Booking {
		farm := sample.Farm()
		return sample.Booking(farm, sample.Yard(farm))
	}
	check := func(b booking.Booking) error { return b.Check(known, sample.Today) }
	window := func(from, to int) booking.Window {
		return booking.Window{From: sample.Today.AddDays(from), To: sample.Today.AddDays(to), Part: booking.Morning}
	}
	set := func(windows ...booking.Window) func(*booking.Booking) {
		return func(b *booking.Booking) { b.Windows = windows }
	}
	mobs := func(n int) func(*booking.Booking) {
		return func(b *booking.Booking) {
			b.Mobs = nil
			for range n {
				b.Mobs = append(b.Mobs, sample.Mob(10))
			}
		}
	}
	checkEach(t, fine, check, []wrong[booking.Booking]{
		{"empty", func(b *booking.Booking) { *b = booking.Booking{} }, "mobs windows"},
		{"the most mobs", mobs(booking.MaxMobs), ""},
		{"too many mobs", mobs(booking.MaxMobs + 1), "mobs"},
		{"a wrong second mob", func(b *booking.Booking) { b.Mobs = append(b.Mobs, booking.Mob{}) }, "mob.1.class mob.1.head mob.1.services"},
		{"today only", set(window(0, 0)), ""},
		{"from the past to today", set(window(-3, 0)), ""},
		{"yesterday", set(window(-1, -1)), "window.0.to"},
		{"the wrong way round", set(window(5, 4)), "window.0.to"},
		{"a year and a half ahead", set(window(540, 550)), ""},
		{"more", set(window(540, 551)), "window.0.to"},
		{"an empty second window", set(window(0, 1), booking.Window{}), "window.1.from window.1.to window.1.part"},
		{"30 February", set(booking.Window{From: civil.Date{Year: 2027, Month: 2, Day: 30}, To: civil.Date{Year: 2027, Month: 3, Day: 1}, Part: booking.AllDay}), "window.0.from"},
		{"eleven windows", set(make([]booking.Window, 11)...), elevenWindows()},
		{"a long note", func(b *booking.Booking) { b.Note = strings.Repeat("羊", 2001) }, "note"},
	})
}

// elevenWindows are the fields of eleven empty windows.
func elevenWindows() string {
	fields := "windows"
	for i := range 11 {
		fields += fmt.Sprintf(" window.%d.from window.%d.to window.%d.part", i, i, i)
	}
	return fields
}
