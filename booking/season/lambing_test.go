package season_test

import (
	"fmt"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/season"

	"cloud.google.com/go/civil"
)

func ExampleLambingFrom() {
	fmt.Println(season.LambingFrom(civil.Date{Year: 2026, Month: 11, Day: 5}, booking.Sheep))
	// Output: 2027-04-01
}

// The shepherd's rule of thumb in Britain: rams in on Bonfire Night (5
// November), lambs on April Fools' Day (1 April). From memory; it is the 147
// days of a year without a leap day.
func TestGestationAgreesWithTheRuleOfThumb(t *testing.T) {
	if got := season.LambingFrom(date("2025-11-05"), booking.Sheep); got != date("2026-04-01") {
		t.Errorf("lambs from %s", got)
	}
	// Across a leap day it comes a day sooner.
	if got := season.LambingFrom(date("2027-11-05"), booking.Sheep); got != date("2028-03-31") {
		t.Errorf("lambs from %s", got)
	}
}

// Ewes 142 to 152 days; does 149.0 to 151.7 by breed (J. Agric. Sci. 2000).
func TestGestationIsInThePublishedRange(t *testing.T) {
	if g := season.Gestation(booking.Sheep); g < 142 || g > 152 {
		t.Errorf("ewes carry %d days", g)
	}
	if g := season.Gestation(booking.Goat); g < 149 || g > 152 {
		t.Errorf("does carry %d days", g)
	}
	if g := season.Gestation("llama"); g != 0 {
		t.Errorf("a species we do not know carries %d days", g)
	}
}

// The six weeks are common practice, no source.
func TestLateCare(t *testing.T) {
	in, out := date("2025-11-05"), date("2025-12-10") // due 1 April to 6 May 2026
	for _, c := range []struct {
		day  string
		says string // "" for no warning
	}{
		{"2026-02-17", ""},
		{"2026-02-18", "Lambing is due from 1 April 2026, in 42 days."},
		{"2026-03-31", "in 1 day."},
		{"2026-04-01", "under way"},
		{"2026-05-06", "under way"},
		{"2026-05-07", ""},
	} {
		warning, ok := season.LateCare(in, out, booking.Sheep, date(c.day))
		if ok != (c.says != "") || !strings.Contains(warning.Says, c.says) {
			t.Errorf("%s: %v %q", c.day, ok, warning.Says)
		}
		if ok && (!strings.Contains(warning.Says, "vet") || warning.Basis != season.CommonPractice) {
			t.Errorf("%s: %q on %q", c.day, warning.Says, warning.Basis)
		}
	}
}

func TestLateCareWithHalfTheDates(t *testing.T) {
	in := date("2025-11-05")
	if _, ok := season.LateCare(civil.Date{}, in, booking.Sheep, in); ok {
		t.Error("warns without knowing when the males went in")
	}
	if _, ok := season.LateCare(in, civil.Date{}, booking.Sheep, date("2026-04-20")); !ok {
		t.Error("does not warn in the usual lambing when nobody said when the rams came out")
	}
	if warning, _ := season.LateCare(in, civil.Date{}, booking.Goat, date("2026-04-03")); !strings.HasPrefix(warning.Says, "Kidding") || !strings.Contains(warning.Says, "Does") {
		t.Errorf("of goats it says %q", warning.Says)
	}
}

// Three cycles of 17 days: Oregon State University, sheep management calendar.
func TestLambingAssumesThreeCycles(t *testing.T) {
	if got := season.Lambing(date("2025-11-05"), civil.Date{}, booking.Sheep); got.Len() != 3*17+1 {
		t.Errorf("lambing lasts %s", got)
	}
	if got := season.Lambing(civil.Date{}, civil.Date{}, booking.Sheep); !got.Empty() || got.String() != "no day" || got.Len() != 0 {
		t.Errorf("lambing %s without males", got)
	}
}

func TestDays(t *testing.T) {
	one := season.Days{From: date("2026-03-04"), To: date("2026-03-04")}
	if one.String() != "4 March 2026" || one.Len() != 1 || !one.Hold(one.From) || one.Hold(date("2026-03-05")) {
		t.Errorf("%s holds %d days", one, one.Len())
	}
}
