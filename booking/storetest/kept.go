package storetest

import (
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var keptChecks = []check{
	{"business comes back as it went in", keepsBusiness},
	{"people come back as they went in", keepsPeople},
	{"people are found by address in any case", findsPeopleByAddress},
	{"an address belongs to one person", refusesTakenAddress},
	{"passwords are kept apart from people", keepsPasswords},
	{"farms come back as they went in", keepsFarms},
	{"farms are found by address", findsFarmsByAddress},
	{"yards come back as they went in", keepsYards},
	{"rigs come back as they went in", keepsRigs},
	{"a rig's name belongs to one rig", refusesTakenRigName},
	{"days off are kept, changed and dropped", keepsDaysOff},
	{"services come back as they went in", keepsServices},
	{"lists are in the order people expect", listsInOrder},
	{"any text comes back as it went in", keepsAnyText},
	{"what is not there is not found", findsNothing},
}

func keepsBusiness(s *suite) {
	_, err := s.Business(s.ctx)
	s.wants(fault.NotFound, err)
	b := sample.Business()
	s.must(s.SaveBusiness(s.ctx, &b))
	s.same("business", found[booking.Business](s)(s.Business(s.ctx)), b)
	b.Name, b.Phone, b.Home = "Renamed", "", [2]float64{-6.26, 53.35}
	b.Running = booking.Running{Hour: 1, Overtime: 2, Km: 3, SoloKm: 4, TurnOut: 5, Lodging: 6}
	s.must(s.SaveBusiness(s.ctx, &b))
	s.same("changed business", found[booking.Business](s)(s.Business(s.ctx)), b)
}

func keepsPeople(s *suite) {
	p := sample.Person(booking.Operator)
	p.Skills = []booking.Skill{booking.SkillScan, booking.SkillCrutch}
	p.Away = []booking.Away{{From: sample.Day, To: sample.Day.AddDays(6), Reason: "leave"}}
	s.must(s.SavePerson(s.ctx, &p))
	s.same("person", found[booking.Person](s)(s.Person(s.ctx, p.ID)), p)
	p.Active, p.Skills, p.Away, p.Phone = false, nil, nil, ""
	s.must(s.SavePerson(s.ctx, &p))
	s.same("person out of use", found[booking.Person](s)(s.Person(s.ctx, p.ID)), p)
	s.same("people", found[[]booking.Person](s)(s.People(s.ctx)), []booking.Person{p})
}

func findsPeopleByAddress(s *suite) {
	for _, c := range [][2]string{ // as kept, as asked for
		{"Nell@Coverdale.example", "nell@coverdale.EXAMPLE"},
		{"Érica@coverdale.example", "Érica@coverdale.example"},
	} {
		p := sample.Person(booking.Office)
		p.Email = c[0]
		s.must(s.SavePerson(s.ctx, &p))
		s.same(c[1], found[booking.Person](s)(s.PersonByEmail(s.ctx, c[1])), p)
	}
	_, err := s.PersonByEmail(s.ctx, "nobody@coverdale.example")
	s.wants(fault.NotFound, err)
}

func refusesTakenAddress(s *suite) {
	first, second := sample.Person(booking.Owner), sample.Person(booking.Office)
	first.Email, second.Email = "one@coverdale.example", "ONE@coverdale.example"
	s.must(s.SavePerson(s.ctx, &first))
	s.wants(fault.Conflict, s.SavePerson(s.ctx, &second))
	s.same("people", found[[]booking.Person](s)(s.People(s.ctx)), []booking.Person{first})
}

func keepsPasswords(s *suite) {
	p := sample.Person(booking.Owner)
	s.must(s.SavePerson(s.ctx, &p))
	s.same("no password yet", found[string](s)(s.PasswordHash(s.ctx, p.ID)), "")
	s.must(s.SetPasswordHash(s.ctx, p.ID, "$argon2id$first"))
	s.must(s.SetPasswordHash(s.ctx, p.ID, "$argon2id$second"))
	p.Name = "Renamed"
	s.must(s.SavePerson(s.ctx, &p))
	s.same("password", found[string](s)(s.PasswordHash(s.ctx, p.ID)), "$argon2id$second")
	_, err := s.PasswordHash(s.ctx, booking.NewID())
	s.wants(fault.NotFound, err)
	s.wants(fault.NotFound, s.SetPasswordHash(s.ctx, booking.NewID(), "$argon2id$third"))
}

func keepsFarms(s *suite) {
	f := sample.Farm()
	f.Hygiene, f.TaxID = booking.KnownInfected, "IE0000000A"
	s.must(s.SaveFarm(s.ctx, &f))
	s.same("farm", found[booking.Farm](s)(s.Farm(s.ctx, f.ID)), f)
	f.Hygiene, f.Notes, f.Contact = booking.KnownClean, "", ""
	s.must(s.SaveFarm(s.ctx, &f))
	s.same("changed farm", found[booking.Farm](s)(s.Farm(s.ctx, f.ID)), f)
	nameless := sample.Farm()
	nameless.ID = ""
	s.must(s.SaveFarm(s.ctx, &nameless))
	if _, ok := booking.ParseID(string(nameless.ID)); !ok || nameless.Version != 1 {
		s.Errorf("a new farm got id %q and version %d", nameless.ID, nameless.Version)
	}
}

func findsFarmsByAddress(s *suite) {
	first, second, other := sample.Farm(), sample.Farm(), sample.Farm()
	first.Name, second.Name = "Brook End", "Ash Tree" // one household, two farms
	first.Email, second.Email = "shared@alderfold.example", "Shared@AlderFold.example"
	for _, f := range []*booking.Farm{&first, &second, &other} {
		s.must(s.SaveFarm(s.ctx, f))
	}
	s.same("farms", found[[]booking.Farm](s)(s.FarmsByEmail(s.ctx, "SHARED@alderfold.example")), []booking.Farm{second, first})
	s.same("no farms", found[[]booking.Farm](s)(s.FarmsByEmail(s.ctx, "nobody@alderfold.example")), []booking.Farm{})
}

func keepsYards(s *suite) {
	farm, yard := s.farm()
	s.same("yard", found[booking.Yard](s)(s.Yard(s.ctx, yard.ID)), yard)
	bare := booking.Yard{FarmID: farm.ID, Name: "Far yard", At: [2]float64{-75.123456789, 38.987654321}, Surface: booking.Slope}
	s.must(s.SaveYard(s.ctx, &bare))
	other, elsewhere := s.farm()
	s.same("yards of the farm", found[[]booking.Yard](s)(s.Yards(s.ctx, farm.ID)), []booking.Yard{bare, yard})
	s.same("yards of another", found[[]booking.Yard](s)(s.Yards(s.ctx, other.ID)), []booking.Yard{elsewhere})
	if all := found[[]booking.Yard](s)(s.Yards(s.ctx, "")); len(all) != 3 {
		s.Errorf("%d yards in all", len(all))
	}
	stray := sample.Yard(sample.Farm())
	s.wants(fault.Conflict, s.SaveYard(s.ctx, &stray))
}

func keepsRigs(s *suite) {
	r := sample.Rig()
	r.Crew = []booking.ID{booking.NewID(), booking.NewID()}
	r.Length, r.Width, r.Height = 11.45, 2.31, 2.675
	r.Rests, r.Lodges = true, true
	r.Vehicle = booking.Vehicle{Mass: 3150, Length: 5.91, Width: 2.03, Height: 1.875}
	s.must(s.SaveRig(s.ctx, &r))
	s.same("rig", found[booking.Rig](s)(s.Rig(s.ctx, r.ID)), r)
	r.Mount, r.Active, r.SideTilt, r.SortGates, r.Crew, r.Workdays = booking.OnSkid, false, false, 0, nil, nil
	s.must(s.SaveRig(s.ctx, &r))
	s.same("rigs", found[[]booking.Rig](s)(s.Rigs(s.ctx)), []booking.Rig{r})
}

func refusesTakenRigName(s *suite) {
	first, second := s.rig(), sample.Rig()
	second.Name = first.Name
	s.wants(fault.Conflict, s.SaveRig(s.ctx, &second))
}

func keepsDaysOff(s *suite) {
	rig, other := s.rig(), s.rig()
	off := func(r booking.Rig, after int, why string) booking.DayOff {
		return booking.DayOff{RigID: r.ID, Date: sample.Day.AddDays(after), Reason: why}
	}
	shop := off(rig, 0, "Workshop: axle")
	shop.Needed = true
	for _, d := range []booking.DayOff{off(rig, 0, "Workshop"), off(rig, 3, "Show"), off(other, 1, "Leave"), shop} {
		s.must(s.SaveDayOff(s.ctx, d))
	}
	between := func(from, to int) []booking.DayOff {
		return found[[]booking.DayOff](s)(s.DaysOff(s.ctx, sample.Day.AddDays(from), sample.Day.AddDays(to)))
	}
	s.same("both ends included", between(0, 3), []booking.DayOff{shop, off(other, 1, "Leave"), off(rig, 3, "Show")})
	s.same("within", between(1, 2), []booking.DayOff{off(other, 1, "Leave")})
	s.must(s.DropDayOff(s.ctx, rig.ID, sample.Day))
	s.must(s.DropDayOff(s.ctx, rig.ID, sample.Day))
	s.same("after the drop", between(-30, 30), []booking.DayOff{off(other, 1, "Leave"), off(rig, 3, "Show")})
	s.wants(fault.Conflict, s.SaveDayOff(s.ctx, off(sample.Rig(), 0, "no such rig")))
}

func keepsServices(s *suite) {
	all := sample.Services()
	for i := range slices.Backward(all) {
		s.must(s.SaveService(s.ctx, &all[i]))
	}
	s.same("services", found[[]booking.Service](s)(s.Services(s.ctx)), all)
	all[0].Offered, all[0].SortGates, all[0].SideTilt, all[0].Position = false, 3, true, 9
	all[0].Product, all[0].MgPerKg, all[0].MgPerML, all[0].Packs = "Invented drench", 0.2, 0.8, []int{1000, 2500}
	all[1].MLPerHead = 1.5
	s.must(s.SaveService(s.ctx, &all[1]))
	s.must(s.SaveService(s.ctx, &all[0]))
	s.same("services in their new order", found[[]booking.Service](s)(s.Services(s.ctx)), []booking.Service{all[1], all[2], all[0]})
	twice := sample.Services()[0]
	s.wants(fault.Conflict, s.SaveService(s.ctx, &twice))
}

func listsInOrder(s *suite) {
	names := []string{"beech", "Alder", "Östra", "alder-2", "Zelkova", "ash"}
	for _, name := range names {
		f, r, p := sample.Farm(), sample.Rig(), sample.Person(booking.Operator)
		f.Name, r.Name, p.Name = name, name, name
		s.must(s.SaveFarm(s.ctx, &f))
		s.must(s.SaveRig(s.ctx, &r))
		s.must(s.SavePerson(s.ctx, &p))
	}
	want := []string{"Alder", "alder-2", "ash", "beech", "Östra", "Zelkova"}
	s.same("farms", namesOf(found[[]booking.Farm](s)(s.Farms(s.ctx)), func(f booking.Farm) string { return f.Name }), want)
	s.same("rigs", namesOf(found[[]booking.Rig](s)(s.Rigs(s.ctx)), func(r booking.Rig) string { return r.Name }), want)
	s.same("people", namesOf(found[[]booking.Person](s)(s.People(s.ctx)), func(p booking.Person) string { return p.Name }), want)
}

func namesOf[T any](all []T, name func(T) string) []string {
	names := make([]string, len(all))
	for i, v := range all {
		names[i] = name(v)
	}
	return names
}

func findsNothing(s *suite) {
	for _, id := range []booking.ID{booking.NewID(), "", "not an id", "'; DROP TABLE farms; --"} {
		gets := map[string]func() error{
			"person":  func() error { _, err := s.Person(s.ctx, id); return err },
			"farm":    func() error { _, err := s.Farm(s.ctx, id); return err },
			"yard":    func() error { _, err := s.Yard(s.ctx, id); return err },
			"rig":     func() error { _, err := s.Rig(s.ctx, id); return err },
			"booking": func() error { _, err := s.Booking(s.ctx, id); return err },
			"visit":   func() error { _, err := s.Visit(s.ctx, id); return err },
		}
		for what, get := range gets {
			if err := get(); !fault.Is(err, fault.NotFound) {
				s.Errorf("%s %q: %v", what, id, err)
			}
		}
	}
}
