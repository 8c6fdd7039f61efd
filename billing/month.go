package billing

import (
	"fmt"
	"time"

	"drawbar/booking/fault"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Month is a calendar month of the business's zone. It sorts as text in the
// form of String.
type Month struct {
	Year  int
	Month time.Month
}

// MonthOf is the month that holds a day.
func MonthOf(day civil.Date) Month { return Month{Year: day.Year, Month: day.Month} }

// ParseMonth reads the form 2026-03 and nothing else.
func ParseMonth(text string) (Month, error) {
	t, err := time.Parse("2006-01", text)
	if err != nil || t.Year() < 2000 {
		return Month{}, fault.New(fault.Invalid, "Give the month as year and month, such as 2026-03.")
	}
	return Month{Year: t.Year(), Month: t.Month()}, nil
}

// String is the month as 2026-03 (ISO 8601).
func (m Month) String() string { return fmt.Sprintf("%04d-%02d", m.Year, m.Month) }

// Words is the month for people: "March 2026".
func (m Month) Words() string { return fmt.Sprintf("%s %d", m.Month, m.Year) }

// MarshalText is String, for JSON.
func (m Month) MarshalText() ([]byte, error) { return []byte(m.String()), nil }

// UnmarshalText is ParseMonth.
func (m *Month) UnmarshalText(text []byte) (err error) {
	*m, err = ParseMonth(string(text))
	return err
}

// Next is the month n months later.
func (m Month) Next(n int) Month {
	t := time.Date(m.Year, m.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	return Month{Year: t.Year(), Month: t.Month()}
}

// First is its first day.
func (m Month) First() civil.Date { return civil.Date{Year: m.Year, Month: m.Month, Day: 1} }

// Last is its last day.
func (m Month) Last() civil.Date { return m.Next(1).First().AddDays(-1) }

// Before tells whether the month is earlier than n.
func (m Month) Before(n Month) bool { return m.First().Before(n.First()) }

// DayWords is a day for people: "Mon 8 March 2026".
func DayWords(d civil.Date) string { return say.DayYear(d) }
