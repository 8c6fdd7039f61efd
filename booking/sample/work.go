package sample

import (
	"fmt"
	"time"

	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// Day is a Monday in spring; Today is the Friday before, on which sample
// bookings are made.
var (
	Day   = civil.Date{Year: 2026, Month: time.April, Day: 13}
	Today = civil.Date{Year: 2026, Month: time.April, Day: 10}
)

// Morning is eight o'clock on Day in the zone of Business.
var Morning = time.Date(2026, time.April, 13, 12, 0, 0, 0, time.UTC)

// Rig on its own trailer, with everything on it.
func Rig() booking.Rig {
	return booking.Rig{
		ID: booking.NewID(), Name: fmt.Sprintf("Rig %d", next()), Mount: booking.OnTrailer, SideTilt: true, WeighBars: true, TagReader: true,
		SortGates: 3, RacePlaces: 12, Mass: 2800, Length: 11.5, Width: 2.3, Height: 2.6,
		Workdays: []time.Weekday{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday},
		DayStart: 6 * 60, DayEnd: 19 * 60, Active: true,
	}
}

// Services are three of those on offer: a drench, a weigh and a scan.
func Services() []booking.Service {
	return []booking.Service{
		{Code: "drench", Name: "Drench", Advice: "Have the product and its label ready.", Offered: true, Position: 1},
		{Code: "weigh", Name: "Weigh", WeighBars: true, Offered: true, Position: 2},
		{Code: "scan", Name: "Scan", Skill: booking.SkillScan, Scanning: true, Advice: "No feed for some hours before.", Offered: true, Position: 3},
	}
}

// Mob of ewes, to be drenched and weighed.
func Mob(head int) booking.Mob {
	return booking.Mob{
		ID: booking.NewID(), Species: booking.Sheep, Class: booking.Ewe, Head: head,
		Services: []string{"drench", "weigh"},
	}
}

// Booking of 240 ewes, or of the mobs given, for any day of the week of Day.
func Booking(farm booking.Farm, yard booking.Yard, mobs ...booking.Mob) booking.Booking {
	if len(mobs) == 0 {
		mobs = []booking.Mob{Mob(240)}
	}
	return booking.Booking{
		ID: booking.NewID(), FarmID: farm.ID, YardID: yard.ID, State: booking.Asked, Mobs: mobs,
		Windows: []booking.Window{{From: Day, To: Day.AddDays(6), Part: booking.AllDay}},
		Note:    "Dogs stay in.", Created: Today.In(time.UTC),
	}
}

// Visit of a rig to the booking's yard, for all its animals: three hours and
// ten minutes from arrival to leaving.
func Visit(b booking.Booking, rig booking.Rig, arrive time.Time) booking.Visit {
	return booking.Visit{
		ID: booking.NewID(), BookingID: b.ID, FarmID: b.FarmID, YardID: b.YardID, RigID: rig.ID,
		Day: civil.DateOf(arrive), Part: 1, Parts: 1, Head: b.Head(), State: booking.Pencilled, Arrive: arrive,
		SetUp: 20 * time.Minute, Work: 2 * time.Hour, WorkLong: 3 * time.Hour, PackDown: 20 * time.Minute, WashDown: 30 * time.Minute,
	}
}

// Link for a purpose, good for a day from the moment, with its secret.
func Link(purpose booking.LinkPurpose, subject booking.ID, now time.Time) (booking.Link, booking.Secret) {
	secret := booking.NewSecret()
	return booking.Link{
		Hash: secret.Hash(), Purpose: purpose, Subject: subject, Expires: now.Add(24 * time.Hour), Once: purpose != booking.ToBooking,
	}, secret
}
