package season

import (
	"fmt"
	"time"

	"drawbar/booking/say"

	"cloud.google.com/go/civil"
	"github.com/rickar/cal/v2"
	"github.com/rickar/cal/v2/gb"
	"github.com/rickar/cal/v2/ie"
	"github.com/rickar/cal/v2/us"
)

// holidays by country: of the United States the federal ones, of the United
// Kingdom those of England and Wales, of Ireland the public ones.
var holidays = map[string][]*cal.Holiday{"US": us.Holidays, "GB": gb.Holidays, "IE": ie.Holidays}

// Holiday names the public holiday that the day is in a country (ISO 3166-1),
// or stands in for; ok is false for none and for countries we have no list of.
// One-off holidays that were declared late may be missing.
func Holiday(country string, day civil.Date) (name string, ok bool) {
	for _, h := range holidays[country] {
		// A New Year's Day on a Saturday may be kept in the year before.
		for _, year := range []int{day.Year, day.Year + 1} {
			actual, kept := h.Calc(year)
			switch {
			case sameDay(actual, day):
				return h.Name, true
			case sameDay(kept, day):
				return h.Name + " (day in lieu)", true
			}
		}
	}
	return "", false
}

func sameDay(t time.Time, day civil.Date) bool { return !t.IsZero() && civil.DateOf(t) == day }

// HolidayAdvice tells a planner that a day is a public holiday. It forbids
// nothing: animals need care on holidays too.
func HolidayAdvice(country string, day civil.Date) (advice Advice, ok bool) {
	name, ok := Holiday(country, day)
	if !ok {
		return Advice{}, false
	}
	return Advice{Basis: "public holidays by law", Says: fmt.Sprintf(
		"%s is a public holiday: %s. Ask the farm and the crew before you plan a visit.", say.Date(day), name)}, true
}
