package season_test

import (
	"fmt"
	"strings"
	"testing"

	"drawbar/booking/season"

	"cloud.google.com/go/civil"
	"pgregory.net/rapid"
)

func ExampleHoliday() {
	name, _ := season.Holiday("US", civil.Date{Year: 2026, Month: 7, Day: 3})
	fmt.Println(name)
	// Output: Independence Day (day in lieu)
}

// The whole year 2026 as published by each government, written from memory:
// United States Office of Personnel Management, federal holidays; gov.uk, bank
// holidays of England and Wales; Citizens Information, public holidays of
// Ireland. The days that fall on a weekend themselves are listed too.
func TestHolidaysOf2026(t *testing.T) {
	published := map[string]string{
		"US": "01-01 01-19 02-16 05-25 06-19 07-03 07-04 09-07 10-12 11-11 11-26 12-25",
		"GB": "01-01 04-03 04-06 05-04 05-25 08-31 12-25 12-26 12-28",
		"IE": "01-01 02-02 03-17 04-06 05-04 06-01 08-03 10-26 12-25 12-26",
	}
	for country, want := range published {
		var got []string
		for day := date("2026-01-01"); day.Year == 2026; day = day.AddDays(1) {
			if _, ok := season.Holiday(country, day); ok {
				got = append(got, day.String()[5:])
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %v, want %s", country, got, want)
		}
	}
}

// New Year's Day 2028 is a Saturday: federal offices close on Friday 31
// December 2027, those of England and Wales on Monday 3 January 2028.
func TestNewYearOnASaturday(t *testing.T) {
	for country, day := range map[string]string{"US": "2027-12-31", "GB": "2028-01-03"} {
		advice, ok := season.HolidayAdvice(country, date(day))
		if !ok || !strings.Contains(advice.Says, "New Year's Day (day in lieu)") {
			t.Errorf("%s, %s: %q", country, day, advice.Says)
		}
	}
}

func TestCountriesWithoutAList(t *testing.T) {
	if _, ok := season.HolidayAdvice("NZ", date("2026-12-25")); ok {
		t.Error("knows holidays of a country it has no list of")
	}
}

// The referee is the anonymous Gregorian computus printed in Nature, 20 April
// 1876: Easter Monday is a holiday in Ireland every year.
func TestEasterMonday(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		year := rapid.IntRange(1990, 2090).Draw(t, "year")
		if _, ok := season.Holiday("IE", easter(year).AddDays(1)); !ok {
			t.Errorf("Easter %s", easter(year))
		}
	})
}

func easter(year int) civil.Date {
	a, b, c := year%19, year/100, year%100
	d, e := b/4, b%4
	g := (b - (b+8)/25 + 1) / 3
	h := (19*a + b - d - g + 15) % 30
	l := (32 + 2*e + 2*(c/4) - h - c%4) % 7
	m := (a + 11*h + 22*l) / 451
	n := h + l - 7*m + 114
	return civil.Date{Year: year, Month: 3, Day: 1}.AddDays((n/31-3)*31 + n%31)
}
