package booking_test

import (
	"testing"

	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// Times are reckoned for those who are there, and for the usual crew where
// nobody is.
func TestGoing(t *testing.T) {
	day := civil.Date{Year: 2026, Month: 4, Day: 13}
	away := []booking.Away{{From: day, To: day}}
	rig := booking.Rig{Crew: []booking.ID{"ann", "ben"}}
	for name, c := range map[string]struct {
		ann, ben booking.Person
		going    int
		away     int
	}{
		"both there":              {booking.Person{Active: true}, booking.Person{Active: true}, 2, 0},
		"one away":                {booking.Person{Active: true}, booking.Person{Active: true, Away: away}, 1, 1},
		"one has left":            {booking.Person{Active: true}, booking.Person{Away: away}, 1, 0},
		"both away":               {booking.Person{Active: true, Away: away}, booking.Person{Active: true, Away: away}, 2, 2},
		"one away, on other days": {booking.Person{Active: true}, booking.Person{Active: true, Away: []booking.Away{{From: day.AddDays(1), To: day.AddDays(3)}}}, 2, 0},
	} {
		people := map[booking.ID]booking.Person{"ann": c.ann, "ben": c.ben}
		_, others := rig.OnDay(day, people)
		if going := rig.Going(day, people); len(going.Crew) != c.going || len(others) != c.away {
			t.Errorf("%s: %d go, %d are away", name, len(going.Crew), len(others))
		}
	}
}
