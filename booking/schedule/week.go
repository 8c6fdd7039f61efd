package schedule

import (
	"context"
	"time"

	"drawbar/booking"
	"drawbar/routing"

	"cloud.google.com/go/civil"
)

// Week is a span of days as the board shows it: what is placed, what has no
// day, and what is worth a look.
type Week struct {
	From, To civil.Date
	Today    civil.Date
	Zone     *time.Location
	Business booking.Business
	Days     []Day
	Tray     []Waiting
	Look     []Look
	Totals   Totals
	Rigs     []booking.Rig
}

// Day is one day of all rigs.
type Day struct {
	Date   civil.Date
	Light  Span // dawn to dusk
	Rounds []Round
	Head   int
}

// Span of a day, in minutes after local midnight.
type Span struct{ From, To int }

// Round is one rig's day, in driving order.
type Round struct {
	Rig    booking.Rig
	Off    string // why it stays at home; "" when it may go out
	Stops  []Stop
	Legs   []Leg
	Sleeps string // where the rig is at the end: "home", "stays at Long Acre", or that and "crew lodges"
}

// Stop is one visit of a round. Minutes are after local midnight.
type Stop struct {
	Visit    booking.Visit
	Booking  booking.Booking
	Farm     booking.Farm
	Yard     booking.Yard
	Arrive   int
	Working  int
	Finish   int // median
	Late     int // 90 %
	Packed   int
	Leave    int
	Concerns []string // what breaks a rule, in sentences
}

// Leg is a drive of a round.
type Leg struct {
	From, To int // minutes after local midnight
	Metres   int
	Seconds  int
	Solo     bool // the vehicle without the rig
	Estimate bool
	Start    string // place id: "home" or a yard
	End      string
}

// Waiting is a booking in the tray.
type Waiting struct {
	Booking booking.Booking
	Farm    booking.Farm
	Yard    booking.Yard
	Reason  string // why it has no day
}

// Look is something the contractor should see, with what it is about.
type Look struct {
	Sentence string
	Booking  booking.ID
	Visit    booking.ID // "" when it is about the booking as such
}

// Totals of a week.
type Totals struct {
	Head     int
	Seconds  int // driven
	Metres   int // driven
	Visits   int
	Nights   int  // rig nights away from home
	Estimate bool // some of the driving is estimated, not from roads
}

// Week reads the board of some days.
func (p *Planner) Week(ctx context.Context, from civil.Date, days int) (*Week, error) {
	w, err := p.load(ctx, from, from.AddDays(days-1))
	if err != nil {
		return nil, err
	}
	week := &Week{From: w.from, To: w.to, Today: w.today(), Zone: w.zone, Business: w.business, Rigs: w.rigs}
	w.fillDays(week)
	week.Tray = p.tray(w)
	week.Look = w.looks(week)
	week.Totals = totals(week.Days)
	return week, nil
}

// fillDays lays the visits out, rig by rig, following where each rig sleeps.
func (w *world) fillDays(week *Week) {
	sleeps := map[booking.ID]booking.Visit{}
	for id, v := range w.before {
		if v.Overnight {
			sleeps[id] = v
		}
	}
	for i := range w.days() {
		day := Day{Date: w.from.AddDays(i)}
		day.Light = w.daylight(day.Date)
		for _, rig := range w.rigs {
			r := w.round(rig, day.Date, sleeps)
			for _, s := range r.Stops {
				day.Head += s.Visit.Head
			}
			day.Rounds = append(day.Rounds, r)
		}
		week.Days = append(week.Days, day)
	}
}

// round lays out one rig's day. sleeps holds, for each rig that is out, the
// visit it stayed the night at; round keeps it up to date.
func (w *world) round(rig booking.Rig, day civil.Date, sleeps map[booking.ID]booking.Visit) Round {
	r := Round{Rig: rig, Off: w.offReason(rig, day), Sleeps: "home"}
	for _, v := range w.visits {
		if v.RigID == rig.ID && v.Day == day {
			r.Stops = append(r.Stops, w.stop(w.real(v)))
		}
	}
	night, out := sleeps[rig.ID]
	w.drive(&r, night)
	if n := len(r.Stops); n > 0 {
		night = r.Stops[n-1].Visit
		out = night.Overnight
		sleeps[rig.ID] = night
	}
	if out {
		r.Sleeps = "stays at " + w.farms[night.FarmID].Name
		if night.Lodged {
			r.Sleeps += ", crew lodges"
		}
	} else {
		delete(sleeps, rig.ID)
	}
	return r
}

func (w *world) stop(v booking.Visit) Stop {
	minute := func(t time.Time) int { return w.minute(v.Day, t) }
	return Stop{
		Visit: v, Booking: w.bookings[v.BookingID], Farm: w.farms[v.FarmID], Yard: w.yards[v.YardID],
		Arrive: minute(v.Arrive), Working: minute(v.Working()), Finish: minute(v.Finish()), Late: minute(v.FinishLate()),
		Packed: minute(v.Finish().Add(v.PackDown)), Leave: minute(v.Leave()),
	}
}

// minute is the wall clock of an instant as minutes after the day's midnight.
func (w *world) minute(day civil.Date, t time.Time) int {
	local := t.In(w.zone)
	return civil.DateOf(local).DaysSince(day)*24*60 + local.Hour()*60 + local.Minute()
}

// second is the wall clock of an instant as seconds after the day's midnight.
func (w *world) second(day civil.Date, t time.Time) int32 {
	return int32(w.minute(day, t)*minute + t.Second())
}

// instant is the reverse: a wall-clock second of a day as an instant.
func (w *world) instant(day civil.Date, second int) time.Time {
	return time.Date(day.Year, day.Month, day.Day, 0, 0, second, 0, w.zone).UTC()
}

// drive fills in the legs of a round: out to the first stop, on to the next,
// and back. A crew whose rig stayed at a yard drives there and back without it,
// unless it lodges.
func (w *world) drive(r *Round, night booking.Visit) {
	at, d := homeID, w.drives(r.Rig.ID)
	if night.Overnight && len(r.Stops) > 0 {
		at = string(night.YardID)
		if !night.Lodged {
			w.fetch(r, d, night)
		}
	}
	for _, s := range r.Stops {
		yard := string(s.Yard.ID)
		r.arrive(d, false, at, yard, s.Arrive)
		at = yard
	}
	if n := len(r.Stops); n > 0 && !r.Stops[n-1].Visit.Lodged {
		last := r.Stops[n-1]
		r.depart(d, last.Visit.Overnight, at, homeID, last.Leave)
	}
}

// fetch adds the morning drive, without the rig, to the yard it stayed at.
// Where it moves on, it is packed down and washed first.
func (w *world) fetch(r *Round, d drives, night booking.Visit) {
	first := r.Stops[0]
	there := first.Arrive
	if first.Yard.ID != night.YardID {
		there -= minutesOf(leg(d.towing, string(night.YardID), string(first.Yard.ID)))
		there -= int((night.PackDown + night.WashDown).Minutes())
	}
	r.arrive(d, true, homeID, string(night.YardID), there)
}

// arrive adds a drive that ends at the minute.
func (r *Round) arrive(d drives, solo bool, from, to string, minute int) {
	r.depart(d, solo, from, to, minute-minutesOf(leg(d.of(solo), from, to)))
}

// depart adds a drive that starts at the minute; none to where one is already.
func (r *Round) depart(d drives, solo bool, from, to string, minute int) {
	l := leg(d.of(solo), from, to)
	if from == to || !l.Reachable {
		return
	}
	r.Legs = append(r.Legs, Leg{
		From: minute, To: minute + minutesOf(l), Metres: int(l.Metres), Seconds: int(l.Seconds),
		Solo: solo, Estimate: l.Estimate, Start: from, End: to,
	})
}

func minutesOf(l routing.Leg) int { return int(l.Seconds+30) / 60 }

func totals(days []Day) Totals {
	var t Totals
	for _, d := range days {
		t.Head += d.Head
		for _, r := range d.Rounds {
			t.Visits += len(r.Stops)
			if r.Sleeps != "home" {
				t.Nights++
			}
			for _, l := range r.Legs {
				t.Seconds += l.Seconds
				t.Metres += l.Metres
				t.Estimate = t.Estimate || l.Estimate
			}
		}
	}
	return t
}
