package demo

import (
	"context"
	"time"

	"drawbar/booking"
	"drawbar/booking/schedule"

	"cloud.google.com/go/civil"
)

// wish is a booking of the demo: what, where and when in days from today.
type wish struct {
	farm, yard string
	mobs       []booking.Mob
	from, to   int
	part       booking.DayPart
	note       string
}

func mob(class booking.Class, head int, services ...string) booking.Mob {
	return booking.Mob{Class: class, Head: head, Services: services}
}

// ahead are the bookings that the planner places.
var ahead = []wish{
	{farm: "Mallow Bend Farm", mobs: []booking.Mob{mob(booking.Ewe, 240, "drench", "foot-check"), mob(booking.Ram, 8, "drench")}, from: 0, to: 9},
	{farm: "Three Cedars", mobs: []booking.Mob{mob(booking.Ewe, 110, "drench", "condition")}, from: 0, to: 10},
	{farm: "Saltbox Acres", mobs: []booking.Mob{mob(booking.Ewe, 520, "drench", "inject"), mob(booking.Hogget, 160, "weigh", "sort")}, from: 1, to: 12, note: "Two days are fine; the rig can stand in the shed."},
	{farm: "Otter Branch", mobs: []booking.Mob{mob(booking.Lamb, 180, "weigh", "sort")}, from: 1, to: 9},
	{farm: "Wren and Rye", mobs: []booking.Mob{mob(booking.Ewe, 75, "drench", "foot-check")}, from: 0, to: 14, part: booking.Morning},
	{farm: "Gable End Farm", mobs: []booking.Mob{mob(booking.Ewe, 310, "condition", "drench")}, from: 2, to: 13},
	{farm: "Applegarth", mobs: []booking.Mob{mob(booking.Hogget, 140, "weigh", "drench")}, from: 2, to: 12},
	{farm: "Tall Chimney", mobs: []booking.Mob{mob(booking.Ewe, 95, "foot-trim")}, from: 1, to: 15},
	{farm: "Bellwether Farm", mobs: []booking.Mob{mob(booking.Ewe, 280, "crutch")}, from: 4, to: 16},
	{farm: "Ashwell Goats", mobs: []booking.Mob{mob(booking.Doe, 120, "drench", "condition"), mob(booking.Buck, 4, "foot-check")}, from: 0, to: 11},
	{farm: "Long Furrow", mobs: []booking.Mob{mob(booking.Lamb, 260, "drench", "pour-on")}, from: 3, to: 14},
	{farm: "Fiddler's Croft", mobs: []booking.Mob{mob(booking.Ewe, 60, "drench", "inject")}, from: 2, to: 17, part: booking.Afternoon},
	{farm: "Marram Lodge", mobs: []booking.Mob{mob(booking.Ewe, 220, "drench", "weigh")}, from: 6, to: 18},
	{farm: "Kestrel Rise", mobs: []booking.Mob{mob(booking.Ewe, 90, "foot-check", "drench")}, from: 5, to: 17},
	{farm: "Tansy Field", mobs: []booking.Mob{mob(booking.Hogget, 200, "ear-tag", "weigh")}, from: 7, to: 19},
	{farm: "Cobnut Lane", mobs: []booking.Mob{mob(booking.Ewe, 85, "inject")}, from: 3, to: 18},
	{farm: "Low Meadow", mobs: []booking.Mob{mob(booking.Ewe, 340, "drench", "condition")}, from: 8, to: 20},
	{farm: "Teasel Bank", mobs: []booking.Mob{mob(booking.Ewe, 105, "drench", "sort")}, from: 9, to: 20},
	{farm: "Nightjar Farm", mobs: []booking.Mob{mob(booking.Ewe, 150, "weigh", "condition")}, from: 10, to: 20},
	{farm: "Brindle Corner", mobs: []booking.Mob{mob(booking.Ewe, 70, "foot-trim", "inject")}, from: 1, to: 19, note: "Footrot being treated; please come last in the day."},
}

// waiting are the bookings that came in since and have no day yet.
func (l *loader) waiting() []wish {
	scan := mob(booking.Ewe, 300, "scan")
	scan.MalesIn, scan.MalesOut = l.today.AddDays(-70), l.today.AddDays(-25)
	late := mob(booking.Ewe, 160, "scan")
	late.MalesIn, late.MalesOut = l.today.AddDays(-100), l.today.AddDays(-12)
	return []wish{
		{farm: "Quill Hollow", yard: "Far meadow", mobs: []booking.Mob{mob(booking.Ewe, 80, "foot-trim")}, from: 0, to: 16},
		{farm: "Harrow Cottage", mobs: []booking.Mob{mob(booking.Ewe, 35, "drench")}, from: 0, to: 12},
		{farm: "Dunlin Marsh", mobs: []booking.Mob{scan}, from: 1, to: 20},
		{farm: "Sedgecombe", mobs: []booking.Mob{late}, from: 0, to: 20},
		{farm: "Pinfold Green", mobs: []booking.Mob{mob(booking.Ewe, 130, "drench", "foot-check")}, from: 15, to: 30},
		{farm: "Gable End Farm", yard: "Heifer yard", mobs: []booking.Mob{mob(booking.Hogget, 90, "weigh")}, from: 1, to: 8},
		{farm: "Bellwether Farm", yard: "Lower pens", mobs: []booking.Mob{mob(booking.Ram, 24, "foot-check", "condition")}, from: 2, to: 15},
	}
}

// ask stores a booking as if it had come in some days ago.
func (l *loader) ask(ctx context.Context, w wish, daysAgo int) (booking.Booking, error) {
	farm := l.farm(w.farm)
	yard := l.yard(farm, w.yard)
	if w.part == "" {
		w.part = booking.AllDay
	}
	b := booking.Booking{
		State: booking.Asked, Mobs: w.mobs, Note: w.note, Created: l.Now().AddDate(0, 0, -daysAgo),
		Windows: []booking.Window{{From: l.today.AddDays(w.from), To: l.today.AddDays(w.to), Part: w.part}},
	}
	ctx = booking.As(ctx, booking.Actor{Kind: booking.ByFarmer, ID: farm.ID, Name: farm.Name})
	return b, l.Store.AddBooking(ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b})
}

// loadAhead fills the next three weeks: most bookings placed, the nearest
// promised, some offered, and a few that came in since without a day.
func (l *loader) loadAhead(ctx context.Context) error {
	workshop := booking.DayOff{RigID: l.rigs["Teal"].ID, Date: l.workday(3), Reason: "workshop, brakes", Needed: true}
	if err := l.Store.SaveDayOff(ctx, workshop); err != nil {
		return err
	}
	for _, w := range ahead {
		if _, err := l.ask(ctx, w, 9); err != nil {
			return err
		}
	}
	if err := l.plan(ctx); err != nil {
		return err
	}
	if err := l.promise(ctx); err != nil {
		return err
	}
	for i, w := range l.waiting() {
		if _, err := l.ask(ctx, w, i%3); err != nil {
			return err
		}
	}
	return nil
}

// workday is the first weekday that many days from today or later.
func (l *loader) workday(days int) civil.Date {
	d := l.today.AddDays(days)
	for d.Weekday() == time.Saturday || d.Weekday() == time.Sunday {
		d = d.AddDays(1)
	}
	return d
}

// plan places what it can, week by week.
func (l *loader) plan(ctx context.Context) error {
	as := booking.As(ctx, booking.Actor{Kind: booking.ByPerson, ID: l.people["office"].ID, Name: l.people["office"].Name})
	for week := range 3 {
		order, err := l.Planner.Ask(as, schedule.Order{From: l.today.AddDays(7 * week), Days: 7, Seed: seed, Iterations: 2000})
		if err != nil {
			return err
		}
		if err := l.Planner.Work(as, order.ID); err != nil {
			return err
		}
		found, err := l.Planner.Found(as, order.ID)
		if err != nil {
			return err
		}
		if len(found.Plan.Moves) == 0 {
			continue
		}
		if _, err := l.Planner.Accept(as, order.ID); err != nil {
			return err
		}
	}
	return nil
}

// promise fixes the nearest visits and offers the next ones.
func (l *loader) promise(ctx context.Context) error {
	visits, err := l.Store.Visits(ctx, booking.VisitQuery{From: l.today, States: []booking.VisitState{booking.Pencilled}})
	if err != nil {
		return err
	}
	office := booking.As(ctx, booking.Actor{Kind: booking.ByPerson, ID: l.people["office"].ID, Name: l.people["office"].Name})
	for i, v := range visits {
		if v.Part > 1 {
			continue // goes with the first part
		}
		switch {
		case i < 8:
			err = l.Desk.Fix(office, v.ID, v.Version)
		case i < 11:
			err = l.Desk.Offer(office, v.ID, v.Version)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
