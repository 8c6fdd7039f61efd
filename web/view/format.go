package view

import (
	"strconv"
	"strings"
	"time"

	"drawbar/booking/say"

	"cloud.google.com/go/civil"
	"golang.org/x/text/currency"
)

// Date is a day without its year: "Mon 8 March".
func Date(d civil.Date) string { return say.Day(d) }

// DateYear is a day with its year: "Mon 8 March 2027".
func DateYear(d civil.Date) string { return say.DayYear(d) }

// Day is a day where the month is known: "Mon 8".
func Day(d civil.Date) string { return say.DayOfMonth(d) }

// Month is the month of a day: "March 2027".
func Month(d civil.Date) string { return say.Month(d) }

// Span is a run of days: "8 – 14 March", "29 March – 4 April 2027" where it
// crosses a month, with the year where with is set.
func Span(from, to civil.Date) string {
	switch {
	case from == to:
		return say.Date(from)
	case from.Year != to.Year:
		return say.Date(from) + " – " + say.Date(to)
	case from.Month != to.Month:
		return from.In(time.UTC).Format("2 January") + " – " + say.Date(to)
	}
	return strconv.Itoa(from.Day) + " – " + say.Date(to)
}

// Clock is the time of day in a zone: "7:24".
func Clock(t time.Time, zone *time.Location) string { return say.Time(t, zone) }

// When is day and time in a zone: "Mon 8 March, 7:24".
func When(t time.Time, zone *time.Location) string { return say.When(t, zone) }

// Duration is a length of time to the nearest minute: "3 h 10", "45 min".
func Duration(d time.Duration) string { return say.Length(d) }

// Estimate says how long something may take: "about 3 h 10, could be 4 h".
func Estimate(median, late time.Duration) string { return say.Estimate(median, late) }

// Number groups thousands: "1,650".
func Number[N ~int | ~int64](n N) string {
	digits := strconv.FormatInt(int64(n), 10)
	digits, minus := strings.TrimPrefix(digits, "-"), n < 0
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	if minus {
		return "−" + digits
	}
	return digits
}

// Head is a number of animals: "1,650 head".
func Head(n int) string { return Number(n) + " head" }

// Plural is a number with its noun: "1 visit", "3 visits".
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return Number(n) + " " + many
}

var symbols = map[string]string{"USD": "$", "EUR": "€", "GBP": "£", "AUD": "$", "NZD": "$", "CAD": "$"}

// Money is an amount from minor units: "$1,234.50", "CHF 12.00". How many
// decimals a currency has is data of the Unicode CLDR.
func Money(minor int64, code string) string {
	scale := 2
	if unit, err := currency.ParseISO(code); err == nil {
		scale, _ = currency.Standard.Rounding(unit)
	}
	sign, whole, part := splitMinor(minor, scale)
	symbol, known := symbols[code]
	if !known && code != "" {
		symbol = code + " "
	}
	return sign + symbol + whole + part
}

func splitMinor(minor int64, scale int) (sign, whole, part string) {
	digits := strconv.FormatInt(minor, 10)
	if minor < 0 {
		sign, digits = "−", digits[1:]
	}
	if missing := scale + 1 - len(digits); missing > 0 {
		digits = strings.Repeat("0", missing) + digits
	}
	cut := len(digits) - scale
	if n, err := strconv.ParseInt(digits[:cut], 10, 64); err == nil {
		whole = Number(n)
	}
	if scale > 0 {
		part = "." + digits[cut:]
	}
	return sign, whole, part
}
