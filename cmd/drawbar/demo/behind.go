package demo

import (
	"context"
	"math"
	"time"

	"drawbar/booking"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/quagmt/udecimal"
)

// The season behind: so many weeks, with so many workdays of each between
// them left free.
const weeksBehind = 14

// past are the kinds of work of the season behind, taken in turn.
var past = [][]booking.Mob{
	{mob(booking.Ewe, 180, "drench", "condition")},
	{mob(booking.Lamb, 220, "weigh", "sort")},
	{mob(booking.Ewe, 90, "foot-check", "drench"), mob(booking.Ram, 6, "foot-check")},
	{mob(booking.Hogget, 130, "drench", "weigh")},
	{mob(booking.Ewe, 310, "inject")},
	{mob(booking.Ewe, 70, "foot-trim")},
	{mob(booking.Lamb, 160, "drench", "pour-on")},
	{mob(booking.Ewe, 240, "crutch")},
	{mob(booking.Hogget, 95, "ear-tag", "weigh")},
}

// loadBehind works through the season behind, day by day.
func (l *loader) loadBehind(ctx context.Context) error {
	paces := l.farmPaces()
	n := 0
	for day := l.today.AddDays(-7 * weeksBehind); day.Before(l.today); day = day.AddDays(1) {
		if day.Weekday() == time.Sunday || l.random.IntN(10) < 3 {
			continue
		}
		farm := l.farms[(n*7+3)%len(l.farms)]
		if err := l.visited(ctx, farm, day, past[n%len(past)], paces[farm.ID]); err != nil {
			return err
		}
		n++
	}
	return nil
}

// farmPaces are how much slower or faster each farm is than estimated.
func (l *loader) farmPaces() map[booking.ID]float64 {
	paces := map[booking.ID]float64{}
	for _, f := range l.farms {
		paces[f.ID] = math.Exp(0.15 * l.random.NormFloat64())
	}
	return paces
}

// visited enters a visit of the past as it went: booked, promised, worked,
// signed.
func (l *loader) visited(ctx context.Context, farm booking.Farm, day civil.Date, mobs []booking.Mob, pace float64) error {
	yard := l.yards[farm.ID][0]
	rig := l.rigs["Heron"]
	own := make([]booking.Mob, len(mobs))
	copy(own, mobs)
	for i := range own {
		own[i].Head += l.random.IntN(own[i].Head/4+1) - own[i].Head/8
	}
	b := booking.Booking{
		State: booking.Asked, Mobs: own, Created: l.at(day.AddDays(-16), 19*60),
		Windows: []booking.Window{{From: day.AddDays(-3), To: day.AddDays(4), Part: booking.AllDay}},
	}
	return l.Clock.at(b.Created, func() error {
		as := booking.As(ctx, booking.Actor{Kind: booking.ByFarmer, ID: farm.ID, Name: farm.Name})
		if err := l.Store.AddBooking(as, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b}); err != nil {
			return err
		}
		v, err := l.placed(ctx, farm, yard, rig, &b, day)
		if err != nil {
			return err
		}
		return l.worked(ctx, v, b, farm, pace)
	})
}

// at is a time of day in the business's zone.
func (l *loader) at(day civil.Date, minute int) time.Time {
	return time.Date(day.Year, day.Month, day.Day, 0, minute, 0, 0, l.zone).UTC()
}

// placed puts the booking on its day, promised.
func (l *loader) placed(ctx context.Context, farm booking.Farm, yard booking.Yard, rig booking.Rig, b *booking.Booking, day civil.Date) (booking.Visit, error) {
	v := booking.Visit{
		BookingID: b.ID, FarmID: farm.ID, YardID: yard.ID, RigID: rig.ID, Day: day, Part: 1, Parts: 1, Head: b.Head(),
		State: booking.Fixed, Arrive: l.at(day, 7*60+30+l.random.IntN(90)),
	}
	if err := l.Planner.Retime(&v, *b, farm, yard, rig); err != nil {
		return v, err
	}
	b.State = booking.Agreed
	err := l.Store.ApplyPlan(ctx, booking.PlanChange{Save: []*booking.Visit{&v}, Bookings: []*booking.Booking{b}, Verb: "planned", Detail: farm.Name})
	return v, err
}

// diary writes the events of one visit.
type diary struct {
	visit  booking.ID
	events []jobs.Event
	now    time.Time
}

func (d *diary) note(after time.Duration, kind jobs.Kind, what jobs.Payload) {
	d.now = d.now.Add(after).Truncate(time.Millisecond)
	d.events = append(d.events, jobs.Event{ID: booking.NewID(), VisitID: d.visit, Device: "demo", Seq: len(d.events), At: d.now, Kind: kind, What: what})
}

// worked enters the docket of a visit and has it signed.
func (l *loader) worked(ctx context.Context, v booking.Visit, b booking.Booking, farm booking.Farm, pace float64) error {
	noise := func(d time.Duration) time.Duration {
		return time.Duration(float64(d) * pace * math.Exp(0.12*l.random.NormFloat64()))
	}
	d := &diary{visit: v.ID, now: v.Arrive.Add(time.Duration(l.random.IntN(20)-8) * time.Minute)}
	d.note(0, jobs.Arrived, nil)
	d.note(noise(v.SetUp), jobs.SetUp, nil)
	d.note(3*time.Minute, jobs.Started, nil)
	l.count(d, b, noise(v.Work))
	l.treat(d, b, v.Day)
	d.note(2*time.Minute, jobs.Finished, nil)
	d.note(6*time.Minute, jobs.SignedFor, jobs.Signature{Name: farm.Contact, Drawing: "M40 120 L90 60 L130 140 L180 70 L240 110 L330 90", Seen: b.Head()})
	signed := len(d.events)
	d.note(noise(v.PackDown), jobs.Packed, nil)
	d.note(4*time.Minute, jobs.Left, nil)
	who := l.people["operator"]
	return l.Clock.at(d.now, func() error {
		as := booking.As(ctx, booking.Actor{Kind: booking.ByPerson, ID: who.ID, Name: who.Name})
		if _, err := l.Jobs.Append(as, v.ID, who.ID, jobs.NewBatch(d.events[:signed]...)); err != nil {
			return err
		}
		if _, err := l.Jobs.Sign(as, v.ID); err != nil {
			return err
		}
		_, err := l.Jobs.Append(as, v.ID, who.ID, jobs.NewBatch(d.events[signed:]...))
		return err
	})
}

// lump is how many head the demo counts at once.
const lump = 20

// count spreads the counting of all mobs over the work, with one pause.
func (l *loader) count(d *diary, b booking.Booking, work time.Duration) {
	perHead := work / time.Duration(max(b.Head(), 1))
	for i, m := range b.Mobs {
		for left := m.Head; left > 0; left -= lump {
			n := min(left, lump)
			d.note(perHead*time.Duration(n), jobs.Counted, jobs.Count{Mob: m.ID, Services: m.Services, Gate: l.gate(m), Head: n})
		}
		if i == 0 {
			d.note(time.Minute, jobs.Paused, nil)
			d.note(9*time.Minute, jobs.Resumed, nil)
		}
	}
}

// gate sends sorted animals one of three ways.
func (l *loader) gate(m booking.Mob) jobs.Gate {
	for _, s := range m.Services {
		if s == "sort" {
			return jobs.Gates[l.random.IntN(len(jobs.Gates))]
		}
	}
	return ""
}

// treat records the medicines of the demo, which are invented.
func (l *loader) treat(d *diary, b booking.Booking, day civil.Date) {
	for _, m := range b.Mobs {
		for _, s := range m.Services {
			t := jobs.Treatment{Mob: m.ID, Head: m.Head, Batch: "D" + day.String()[2:4] + "-17", Expiry: day.AddDays(400), Unit: "mL", Given: day}
			switch s {
			case "drench":
				t.Product, t.Dose, t.Route, t.MeatDays = "Invented drench", udecimal.MustParse("7.5"), jobs.ByMouth, 14
			case "inject":
				t.Product, t.Dose, t.Route, t.MeatDays = "Invented vaccine", udecimal.MustParse("2"), jobs.UnderSkin, 0
			default:
				continue
			}
			d.note(30*time.Second, jobs.Treated, t)
		}
	}
}
