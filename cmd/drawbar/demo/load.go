package demo

import (
	"context"
	"math/rand/v2"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/schedule"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/paulmach/orb"
)

// Parts of the program that the demo is loaded through.
type Parts struct {
	Store   booking.Store
	Desk    *booking.Desk
	Planner *schedule.Planner
	Jobs    jobs.Store
	Biller  billing.Biller
	Clock   *Clock // the one that the parts above look at
}

// loader holds what has been loaded so far.
type loader struct {
	Parts
	random   *rand.Rand
	business booking.Business
	zone     *time.Location
	today    civil.Date
	people   map[string]booking.Person
	rigs     map[string]booking.Rig
	farms    []booking.Farm
	yards    map[booking.ID][]booking.Yard
}

// seed of all that is drawn at random.
const seed = 20260301

// Now is the time that the demo is loaded for.
func (l *loader) Now() time.Time { return l.Clock.Now() }

// Load fills an empty database.
func Load(ctx context.Context, p Parts) error {
	if _, err := p.Store.Business(ctx); !fault.Is(err, fault.NotFound) {
		if err != nil {
			return err
		}
		return fault.New(fault.Conflict, "This database has a business already; the demo needs one of its own.")
	}
	l := &loader{
		Parts: p, random: rand.New(rand.NewPCG(seed, seed)),
		people: map[string]booking.Person{}, rigs: map[string]booking.Rig{}, yards: map[booking.ID][]booking.Yard{},
	}
	for _, step := range []func(context.Context) error{l.loadBusiness, l.loadServices, l.loadFarms, l.loadPrices, l.loadBehind, l.loadMoney, l.loadAhead} {
		if err := step(ctx); err != nil {
			return err
		}
	}
	return nil
}

// loadBusiness stores the business, its people and its rigs.
func (l *loader) loadBusiness(ctx context.Context) error {
	file, err := read[businessFile]("business.json")
	if err != nil {
		return err
	}
	b := file.Business
	l.business = booking.Business{
		Name: b.Name, Address: b.Address, Email: b.Email, Phone: b.Phone, TaxID: b.TaxID, Zone: b.Zone, Country: b.Country,
		Currency: b.Currency, HomeName: b.HomeName, Home: orb.Point{b.Lon, b.Lat},
		FarmersChoose: b.FarmersChoose,
	}
	l.zone = l.business.Location()
	l.today = civil.DateOf(l.Now().In(l.zone))
	if err := l.Store.SaveBusiness(ctx, &l.business); err != nil {
		return err
	}
	for _, e := range file.People {
		p := booking.Person{Name: e.Name, Email: e.Email, Phone: e.Phone, Role: e.Role, Skills: e.Skills, Active: true}
		if err := l.Store.SavePerson(ctx, &p); err != nil {
			return err
		}
		l.people[e.Key] = p
	}
	for _, e := range file.Rigs {
		if err := l.loadRig(ctx, e); err != nil {
			return err
		}
	}
	return nil
}

func (l *loader) loadRig(ctx context.Context, e rigEntry) error {
	r := booking.Rig{
		Name: e.Name, Mount: e.Mount, SideTilt: e.SideTilt, WeighBars: e.WeighBars, TagReader: e.TagReader, SortGates: e.SortGates,
		RacePlaces: e.RacePlaces, Mass: e.Mass, Length: e.Length, Width: e.Width, Height: e.Height, Vehicle: e.Vehicle, Active: true,
		Workdays: workdays, DayStart: minutes(e.DayStart), DayEnd: minutes(e.DayEnd),
	}
	for _, key := range e.Crew {
		r.Crew = append(r.Crew, l.people[key].ID)
	}
	err := l.Store.SaveRig(ctx, &r)
	l.rigs[r.Name] = r
	return err
}

var workdays = []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday}

// minutes after midnight of a time such as 06:30.
func minutes(clock string) int {
	t, err := time.Parse("15:04", clock)
	if err != nil {
		panic(err) // the files are ours
	}
	return t.Hour()*60 + t.Minute()
}

func (l *loader) loadServices(ctx context.Context) error {
	for _, s := range booking.StandardServices() {
		switch s.Code { // no product of this world
		case "drench":
			s.Product, s.MgPerKg, s.MgPerML, s.Packs = "Invented drench", 0.2, 2, []int{1000, 2500}
		case "inject":
			s.Product, s.MLPerHead, s.Packs = "Invented vaccine", 2, []int{100, 250}
		}
		if err := l.Store.SaveService(ctx, &s); err != nil {
			return err
		}
	}
	return nil
}

func (l *loader) loadFarms(ctx context.Context) error {
	file, err := read[farmsFile]("farms.json")
	if err != nil {
		return err
	}
	for _, e := range file.Farms {
		f := booking.Farm{Name: e.Name, Contact: e.Contact, Email: e.Email, Phone: e.Phone, Address: e.Address, Hygiene: e.Hygiene}
		if err := l.Store.SaveFarm(ctx, &f); err != nil {
			return err
		}
		l.farms = append(l.farms, f)
		for _, y := range e.Yards {
			yard := y.yard(f.ID)
			if err := l.Store.SaveYard(ctx, &yard); err != nil {
				return err
			}
			l.yards[f.ID] = append(l.yards[f.ID], yard)
		}
	}
	return nil
}

// farm by name.
func (l *loader) farm(name string) booking.Farm {
	for _, f := range l.farms {
		if f.Name == name {
			return f
		}
	}
	panic("demo: no farm " + name)
}

// yard of a farm by name; the first for "".
func (l *loader) yard(farm booking.Farm, name string) booking.Yard {
	for _, y := range l.yards[farm.ID] {
		if name == "" || y.Name == name {
			return y
		}
	}
	panic("demo: no yard " + name)
}
