package view

import (
	"strings"
	"testing"
	"time"

	"cloud.google.com/go/civil"
	"pgregory.net/rapid"
)

func day(text string) civil.Date {
	d, err := civil.ParseDate(text)
	if err != nil {
		panic(err)
	}
	return d
}

// 8 March 2027 is a Monday (ISO 8601 calendar: 2027-W10-1).
func TestDays(t *testing.T) {
	for got, want := range map[string]string{
		Date(day("2027-03-08")):                    "Mon 8 March",
		DateYear(day("2027-03-08")):                "Mon 8 March 2027",
		Day(day("2027-03-08")):                     "Mon 8",
		Month(day("2027-03-08")):                   "March 2027",
		Date(civil.Date{}):                         "",
		Span(day("2027-03-08"), day("2027-03-14")): "8 – 14 March 2027",
		Span(day("2027-03-29"), day("2027-04-04")): "29 March – 4 April 2027",
		Span(day("2026-12-28"), day("2027-01-03")): "28 December 2026 – 3 January 2027",
		Span(day("2027-03-08"), day("2027-03-08")): "8 March 2027",
		Clock(time.Time{}, time.UTC):               "",
		When(time.Time{}, time.UTC):                "",
		Duration(190 * time.Minute):                "3 h 10",
		Duration(4 * time.Hour):                    "4 h",
		Duration(45*time.Minute + 29*time.Second):  "45 min",
		Duration(59*time.Minute + 30*time.Second):  "1 h",
		Duration(65 * time.Minute):                 "1 h 05",
		Duration(0):                                "0 min",
		Head(1650):                                 "1,650 head",
		Plural(1, "visit", "visits"):               "1 visit",
		Plural(0, "visit", "visits"):               "0 visits",
		Plural(1200, "visit", "visits"):            "1,200 visits",
		Number(-1650):                              "−1,650",
		Number(999):                                "999",
		Number(1000000):                            "1,000,000",
		Estimate(190*time.Minute, 4*time.Hour):     "about 3 h 10, could be 4 h",
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// Europe/Dublin is an hour ahead of UTC until 25 October 2026 at 01:00 UTC
// (EU Directive 2000/84/EC: the last Sunday of October).
func TestTimesAreTheBusinesss(t *testing.T) {
	dublin, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Fatal(err)
	}
	for utc, want := range map[string]string{
		"2026-10-24T07:00:00Z": "Sat 24 October, 8:00",
		"2026-10-26T08:00:00Z": "Mon 26 October, 8:00",
		"2026-10-25T23:30:00Z": "Sun 25 October, 23:30",
		"2026-07-01T23:30:00Z": "Thu 2 July, 0:30",
	} {
		at, err := time.Parse(time.RFC3339, utc)
		if err != nil {
			t.Fatal(err)
		}
		if got := When(at, dublin); got != want {
			t.Errorf("%s in Dublin is %q, want %q", utc, got, want)
		}
		if got := Clock(at, dublin); got != want[strings.Index(want, ", ")+2:] {
			t.Errorf("clock of %s in Dublin is %q", utc, got)
		}
	}
}

// Minor units after ISO 4217: yen have none, Kuwaiti dinars three.
func TestMoney(t *testing.T) {
	for _, test := range []struct {
		minor int64
		code  string
		want  string
	}{
		{40250, "USD", "$402.50"},
		{5, "USD", "$0.05"},
		{0, "EUR", "€0.00"},
		{-123456789, "GBP", "−£1,234,567.89"},
		{1200, "CHF", "CHF 12.00"},
		{1200, "JPY", "JPY 1,200"},
		{1234567, "KWD", "KWD 1,234.567"},
		{-7, "KWD", "−KWD 0.007"},
		{1, "", "0.01"},
		{9223372036854775807, "USD", "$92,233,720,368,547,758.07"},
		{-9223372036854775808, "USD", "−$92,233,720,368,547,758.08"},
	} {
		if got := Money(test.minor, test.code); got != test.want {
			t.Errorf("%d %s is %q, want %q", test.minor, test.code, got, test.want)
		}
	}
}

// Taking the commas, the sign and the point out again gives the minor units.
func TestMoneyLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minor := rapid.Int64().Draw(t, "minor")
		var back int64
		negative := false
		for _, r := range Money(minor, "USD") {
			switch {
			case r == '−':
				negative = true
			case r >= '0' && r <= '9':
				back = back*10 - int64(r-'0') // downwards: the lowest has no positive twin
			}
		}
		if !negative {
			back = -back
		}
		if back != minor {
			t.Fatalf("%d shows as %q", minor, Money(minor, "USD"))
		}
	})
}
