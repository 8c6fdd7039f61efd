package say

import (
	"fmt"
	"time"

	"cloud.google.com/go/civil"
)

// Day is a day without its year: "Mon 8 March"; "" for none.
func Day(d civil.Date) string { return format(d, "Mon 2 January") }

// DayYear is a day with its year: "Mon 8 March 2027"; "" for none.
func DayYear(d civil.Date) string { return format(d, "Mon 2 January 2006") }

// DayOfMonth is a day where the month is known: "Mon 8"; "" for none.
func DayOfMonth(d civil.Date) string { return format(d, "Mon 2") }

// Month is the month of a day: "March 2027"; "" for none.
func Month(d civil.Date) string { return format(d, "January 2006") }

func format(d civil.Date, layout string) string {
	if !d.IsValid() {
		return ""
	}
	return d.In(time.UTC).Format(layout)
}

// Minute is a time of day from minutes after midnight: "8:24", and "1:05 the
// next day" past its end.
func Minute(minutes int) string {
	suffix := ""
	if minutes >= 24*60 {
		suffix = " the next day"
	}
	minutes = (minutes%(24*60) + 24*60) % (24 * 60)
	return fmt.Sprintf("%d:%02d%s", minutes/60, minutes%60, suffix)
}

// Length is a length of time to the minute: "45 min", "3 h", "3 h 10".
func Length(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	hours, rest := minutes/60, minutes%60
	switch {
	case hours == 0:
		return fmt.Sprintf("%d min", rest)
	case rest == 0:
		return fmt.Sprintf("%d h", hours)
	}
	return fmt.Sprintf("%d h %02d", hours, rest)
}
