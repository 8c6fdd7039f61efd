package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/migrations/dbtest"
	"drawbar/routing/road/roadtest"

	"github.com/paulmach/orb"
)

// lanes is a home in the south and a yard in the north. Mill Lane is the short
// way, 2 km, with a narrow place on it; the way round by the east takes 6 km.
const lanes = `
n 1 0 0
n 2 0 900
n 3 0 1100
n 4 0 2000
n 5 2000 0
n 6 2000 2000
w 1 1,2 highway=tertiary name=Mill~Lane
w 2 2,3 highway=tertiary name=Mill~Lane %s
w 3 3,4 highway=tertiary name=Mill~Lane
w 4 1,5,6,4 highway=tertiary name=East~Road`

func lanesAt(x, y float64) orb.Point {
	return orb.Point{roadtest.OriginLon + x*roadtest.DegreesEast, roadtest.OriginLat + y*roadtest.DegreesUp}
}

// lane is the program on the lanes, with one rig, one yard and one visit.
type lane struct {
	*testing.T
	app    *App
	rig    booking.Rig
	yard   booking.Yard
	ask    booking.Booking
	placed bool
}

// openLanes imports the lanes as the command does.
func openLanes(t *testing.T, limit string) *lane {
	folder := t.TempDir()
	extract := filepath.Join(folder, "lanes.osm")
	check(t, os.WriteFile(extract, []byte(roadtest.TownXML(fmt.Sprintf(lanes, limit))), 0o600))
	check(t, run(t.Context(), []string{"roads", "import", "--region", "GB", extract}, streams{nil, &strings.Builder{}, &strings.Builder{}}))
	now := sample.Today.In(time.UTC).Add(15 * time.Hour)
	config := Config{Database: dbtest.SQLite(t).DSN(), Roads: filepath.Join(folder, "lanes.road"), URL: "http://drawbar.test", Mail: folder, MailFrom: "post@machine.example"}
	app, err := Open(t.Context(), config, func() time.Time { return now }, quietLog)
	check(t, err)
	t.Cleanup(func() { check(t, app.Close()) })
	l := &lane{T: t, app: app, rig: sample.Rig()}
	l.fill()
	return l
}

func (l *lane) fill() {
	ctx, rows := l.Context(), l.app.Store
	business, person, farm := sample.Business(), sample.Person(booking.Operator), sample.Farm()
	business.Home = lanesAt(10, 0)
	check(l.T, rows.SaveBusiness(ctx, &business))
	check(l.T, rows.SavePerson(ctx, &person))
	for _, s := range booking.StandardServices() {
		check(l.T, rows.SaveService(ctx, &s))
	}
	l.rig.Crew = []booking.ID{person.ID}
	l.rig.Mass, l.rig.Length, l.rig.Width, l.rig.Height = 1000, 8, 2, 2
	l.rig.Vehicle = booking.Vehicle{Mass: 1900, Length: 4.5, Width: 1.8, Height: 1.7}
	check(l.T, rows.SaveRig(ctx, &l.rig))
	l.yard = sample.Yard(farm)
	l.yard.At, l.yard.GateWidth, l.yard.TrainLength = lanesAt(10, 2000), 0, 0
	l.ask = sample.Booking(farm, l.yard, sample.Mob(100))
	l.ask.Mobs[0].Services = []string{"drench"}
	farm.Version, l.yard.Version = 0, 0
	check(l.T, rows.AddBooking(ctx, booking.NewBooking{Farm: &farm, Yard: &l.yard, Booking: &l.ask}))
	const gbp = billing.Currency("GBP")
	list := billing.PriceList{
		Name: "Prices", Currency: gbp, ValidFrom: sample.Today.AddDays(-30), TaxReason: "Small business",
		Prices:  []billing.Price{{Service: "drench", Tiers: []billing.Tier{{From: 1, Rate: 5000}}}},
		Minimum: gbp.Of(0), SetUp: gbp.Of(0), WashDown: gbp.Of(0),
		Travel: billing.Travel{Unit: billing.Kilometres, Rate: 10000}, Terms: billing.Terms{Days: 30, PayTo: "Account 12"},
	}
	check(l.T, l.app.Biller.Store.SavePriceList(ctx, &list))
}

// kept stores the rig anew, with other sizes.
func (l *lane) kept(change func(*booking.Rig)) {
	l.Helper()
	change(&l.rig)
	check(l.T, l.rig.Check())
	check(l.T, l.app.Store.SaveRig(l.Context(), &l.rig))
}

// boardMetres is how far the board says that the rig drives, there and back.
func (l *lane) boardMetres() (towing, solo int) {
	l.Helper()
	if !l.placed {
		l.place()
	}
	week, err := l.app.Planner.Week(l.Context(), sample.Day, 7)
	check(l.T, err)
	for _, leg := range week.Days[0].Rounds[0].Legs {
		if leg.Estimate {
			l.Errorf("%+v is an estimate", leg)
		}
		if leg.Solo {
			solo += leg.Metres
		} else {
			towing += leg.Metres
		}
	}
	return towing, solo
}

func (l *lane) place() {
	l.Helper()
	moved, err := l.app.Planner.PlaceBooking(l.Context(), l.ask.ID, schedule.Place{Rig: l.rig.ID, Day: sample.Day, Minute: 10 * 60})
	check(l.T, err)
	check(l.T, l.app.Planner.Keep(l.Context(), moved))
	l.placed = true
}

// roundMetres is the driving of the week that the planner would make.
func (l *lane) roundMetres() int {
	l.Helper()
	p, err := l.app.Planner.Propose(l.Context(), sample.Day, 7, schedule.Search{Seed: 1, Iterations: 100})
	check(l.T, err)
	return int(p.After.Metres)
}

// charged is the kilometres of the travel line that the farmer is quoted.
func (l *lane) charged() int64 {
	l.Helper()
	e, ok, err := l.app.Biller.Expect(l.Context(), l.ask, l.yard, sample.Day, false)
	check(l.T, err)
	for _, line := range e.Lines {
		if line.Kind == billing.ForTravel {
			return line.Quantity
		}
	}
	l.Fatalf("no travel line: %v, %+v", ok, e)
	return 0
}

// What stops the train is on the short way only: the tag as in the OSM wiki
// (Key:maxheight, maxwidth, maxweight, maxlength, width), and the size that
// just no longer fits. 2 × 2 km become 2 × 6 km on the board, in the plan and
// on the travel line.
func TestTheRigsSizeDecidesTheWay(t *testing.T) {
	for name, c := range map[string]struct {
		tag    string
		bigger func(*booking.Rig)
	}{
		"a low bridge":                   {"tunnel=yes maxheight=2.5", func(r *booking.Rig) { r.Height = 2.6 }},
		"a low bridge, for the vehicle":  {"tunnel=yes maxheight=2.5", func(r *booking.Rig) { r.Vehicle.Height = 2.6 }},
		"a width limit":                  {"maxwidth=2.2", func(r *booking.Rig) { r.Width = 2.3 }},
		"a narrow road":                  {"width=2.2", func(r *booking.Rig) { r.Width = 2.3 }},
		"a weak bridge":                  {"bridge=yes maxweight=3", func(r *booking.Rig) { r.Mass = 1200 }},
		"a weak bridge, for the vehicle": {"bridge=yes maxweight=3", func(r *booking.Rig) { r.Vehicle.Mass = 2100 }},
		"a limit of length":              {"maxlength=9", func(r *booking.Rig) { r.Length = 9.5 }},
	} {
		t.Run(name, func(t *testing.T) {
			l := openLanes(t, c.tag)
			l.wants(4)
			l.kept(c.bigger)
			l.wants(12)
		})
	}
}

// wants a drive of so many kilometres there and back, everywhere.
func (l *lane) wants(km int) {
	l.Helper()
	if charged := l.charged(); charged != int64(km) {
		l.Errorf("%d km are charged, not %d", charged, km)
	}
	if planned := (l.roundMetres() + 500) / 1000; planned != km {
		l.Errorf("%d km are planned, not %d", planned, km)
	}
	if drawn, _ := l.boardMetres(); (drawn+500)/1000 != km {
		l.Errorf("the board draws %d m, not %d km", drawn, km)
	}
}

// The vehicle alone goes under the bridge that the rig on it does not pass.
func TestTheVehicleAloneTakesTheShortWayHome(t *testing.T) {
	l := openLanes(t, "tunnel=yes maxheight=2.5")
	l.kept(func(r *booking.Rig) { r.Height = 2.6 })
	l.place()
	visits, err := l.app.Store.Visits(t.Context(), booking.VisitQuery{BookingID: l.ask.ID})
	check(t, err)
	visits[0].Overnight = true
	check(t, l.app.Store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&visits[0]}, Verb: "moved", RestsOn: map[booking.ID]int{}}))
	towing, solo := l.boardMetres()
	if (towing+500)/1000 != 6 || (solo+500)/1000 != 2 {
		t.Errorf("%d m out with the rig, %d m home without it", towing, solo)
	}
}

// A yard that is moved has new drives at once.
func TestAMovedYardHasNewDrives(t *testing.T) {
	l := openLanes(t, "")
	l.wants(4)
	l.yard.At = lanesAt(2010, 1000)
	check(t, l.app.Store.SaveYard(t.Context(), &l.yard))
	l.wants(6)
}

// Where no way is wide enough, the board says what stops the rig and nothing
// is planned or charged.
func TestAYardTheRigCannotReach(t *testing.T) {
	l := openLanes(t, "maxweight=3")
	l.yard.At = lanesAt(10, 1000)
	check(t, l.app.Store.SaveYard(t.Context(), &l.yard))
	l.wants(2)
	l.kept(func(r *booking.Rig) { r.Mass = 1200 })
	moved, err := l.app.Planner.PlaceBooking(t.Context(), l.ask.ID, schedule.Place{Rig: l.rig.ID, Day: sample.Day.AddDays(1), Minute: 600})
	if err == nil || moved != nil {
		t.Fatalf("placed twice: %v", err)
	}
	week, err := l.app.Planner.Week(t.Context(), sample.Day, 7)
	check(t, err)
	concerns := strings.Join(week.Days[0].Rounds[0].Stops[0].Concerns, " ")
	if !strings.Contains(concerns, "Mill Lane, limit 3.0 t, the train weighs 3.1 t") {
		t.Errorf("the board says %q", concerns)
	}
	e, _, err := l.app.Biller.Expect(t.Context(), l.ask, l.yard, sample.Day, false)
	check(t, err)
	if len(e.Notes) == 0 || !strings.Contains(e.Notes[0], "no travel is charged") {
		t.Errorf("%v", e.Notes)
	}
}
