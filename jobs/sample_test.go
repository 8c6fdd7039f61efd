package jobs_test

import (
	"fmt"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/quagmt/udecimal"
)

const (
	visitID = booking.ID("01890000-0000-7000-8000-000000000001")
	ewes    = booking.ID("01890000-0000-7000-8000-0000000000a1")
	rams    = booking.ID("01890000-0000-7000-8000-0000000000a2")
	ann     = booking.ID("01890000-0000-7000-8000-0000000000b1")
	ben     = booking.ID("01890000-0000-7000-8000-0000000000b2")
)

var morning = time.Date(2026, 3, 9, 8, 0, 0, 0, time.UTC)

// sheet is 240 ewes to drench and trim, and 12 rams to drench.
func sheet() jobs.Sheet {
	return jobs.Sheet{
		Visit:  booking.Visit{ID: visitID, Day: civil.Date{Year: 2026, Month: 3, Day: 9}, Head: 252, Part: 1, Parts: 1},
		Number: 17,
		Mobs: []booking.Mob{
			{ID: ewes, Class: booking.Ewe, Species: booking.Sheep, Head: 240, Services: []string{"drench", "foot-trim"}},
			{ID: rams, Class: booking.Ram, Species: booking.Sheep, Head: 12, Services: []string{"drench"}},
		},
		Services: map[string]booking.Service{
			"drench": {Code: "drench", Name: "Drench"}, "foot-trim": {Code: "foot-trim", Name: "Foot trim"},
			"weigh": {Code: "weigh", Name: "Weigh"},
		},
	}
}

// at makes events one after the other, minutes after eight.
type at struct{ made int }

func (a *at) event(minute int, kind jobs.Kind, what jobs.Payload) jobs.Event {
	a.made++
	return jobs.Event{
		ID: booking.ID(fmt.Sprintf("01890000-0000-7000-9000-%012x", a.made)), VisitID: visitID, Device: "phone-1", Person: ann,
		Seq: a.made, At: morning.Add(time.Duration(minute) * time.Minute), Kind: kind, What: what,
	}
}

func count(mob booking.ID, head int, gate jobs.Gate, services ...string) jobs.Count {
	return jobs.Count{Mob: mob, Services: services, Gate: gate, Head: head}
}

// wholeVisit is a visit on which everything adds up: set up in 20 minutes,
// 240 ewes and 12 rams in two hours of work with half an hour's pause.
func wholeVisit() []jobs.Event {
	var a at
	return []jobs.Event{
		a.event(0, jobs.Arrived, nil),
		a.event(20, jobs.SetUp, nil),
		a.event(30, jobs.Started, nil),
		a.event(60, jobs.Counted, count(ewes, 200, "ahead", "drench", "foot-trim")),
		a.event(90, jobs.Paused, nil),
		a.event(120, jobs.Resumed, nil),
		a.event(150, jobs.Counted, count(ewes, 39, "left", "drench", "foot-trim")),
		a.event(155, jobs.Happened, jobs.Incident{Mob: ewes, Head: 1, Text: "Lame on the way in, left in the pen."}),
		a.event(170, jobs.Counted, count(rams, 12, "", "drench")),
		a.event(180, jobs.Finished, nil),
		a.event(185, jobs.Treated, drench()),
		a.event(190, jobs.SignedFor, jobs.Signature{Name: "Orla Finch", Drawing: "M10,20 L30,40", Seen: 251}),
		a.event(200, jobs.Packed, nil),
		a.event(210, jobs.Left, nil),
	}
}

func drench() jobs.Treatment {
	return jobs.Treatment{
		Mob: ewes, Head: 239, Product: "Example drench", Batch: "B-0417", Expiry: civil.Date{Year: 2027, Month: 1, Day: 31},
		Dose: udecimal.MustParse("17.5"), Unit: "mL", Route: jobs.ByMouth, Given: civil.Date{Year: 2026, Month: 3, Day: 9}, MeatDays: 11,
	}
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
