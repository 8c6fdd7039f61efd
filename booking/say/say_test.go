package say_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

func Example() {
	day := civil.Date{Year: 2027, Month: time.March, Day: 8}
	fmt.Println(say.Day(day), "at", say.Minute(8*60+24), "for", say.Length(190*time.Minute))
	// Output: Mon 8 March at 8:24 for 3 h 10
}

func TestWords(t *testing.T) {
	day := civil.Date{Year: 2027, Month: time.March, Day: 8} // a Monday, by any calendar
	for got, want := range map[string]string{
		say.DayYear(day): "Mon 8 March 2027", say.DayOfMonth(day): "Mon 8", say.Month(day): "March 2027", say.Date(day): "8 March 2027", say.Day(civil.Date{}): "",
		say.Minute(0): "0:00", say.Minute(24*60 + 65): "1:05 the next day", say.Minute(-10): "23:50",
		say.Length(29 * time.Second): "0 min", say.Length(45 * time.Minute): "45 min", say.Length(3 * time.Hour): "3 h", say.Length(65 * time.Minute): "1 h 05",
		say.People(1): "one person", say.People(3): "3 people",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A moment is told in the zone, across the end of summer time: the European
// Union ends it on the last Sunday of October (directive 2000/84/EC).
func TestMoments(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Fatal(err)
	}
	for moment, want := range map[time.Time]string{
		time.Date(2026, 10, 24, 7, 5, 0, 0, time.UTC):   "Sat 24 October, 8:05",
		time.Date(2026, 10, 26, 8, 0, 59, 0, time.UTC):  "Mon 26 October, 8:00",
		time.Date(2026, 10, 24, 23, 30, 0, 0, time.UTC): "Sun 25 October, 0:30",
		{}: "",
	} {
		if got := say.ClockOf(moment, dublin); want != "" && !strings.HasSuffix(got, want[strings.LastIndex(want, " ")+1:]) {
			t.Errorf("%s: %q is not the time of %q", moment, got, want)
		}
		if got := say.When(moment, dublin); got != want {
			t.Errorf("%s: %q, want %q", moment, got, want)
		}
	}
	if got := say.Time(time.Time{}, dublin); got != "" {
		t.Errorf("no moment is %q", got)
	}
}

func TestEstimate(t *testing.T) {
	for _, c := range []struct {
		median, late time.Duration
		want         string
	}{
		{190 * time.Minute, 236 * time.Minute, "about 3 h 10, could be 4 h"},
		{187 * time.Minute, 240 * time.Minute, "about 3 h 10, could be 4 h"},
		{63 * time.Minute, 91 * time.Minute, "about 1 h 05, could be 1 h 45"},
		{44 * time.Minute, 45 * time.Minute, "about 45 min"},
		{62 * time.Minute, 61 * time.Minute, "about 1 h, could be 1 h 15"},
		{30 * time.Second, time.Minute, "about 5 min, could be 15 min"},
		{8 * time.Hour, 10*time.Hour + time.Second, "about 8 h, could be 10 h 15"},
		{0, 0, "about 5 min"},
	} {
		if got := say.Estimate(c.median, c.late); got != c.want {
			t.Errorf("%v, %v: %q, want %q", c.median, c.late, got, c.want)
		}
	}
}
