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

// Date is a day without its weekday: "8 March 2027"; "" for none.
func Date(d civil.Date) string { return format(d, "2 January 2006") }

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

// Clock is a time of day as forms take and send it: "08:24".
func Clock(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }

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

// Time is the time of day of a moment in a zone: "8:24"; "" for none.
func Time(t time.Time, zone *time.Location) string {
	if t.IsZero() {
		return ""
	}
	return Minute(minuteOf(t, zone))
}

// ClockOf is the time of day of a moment in a zone as forms take it: "08:24".
func ClockOf(t time.Time, zone *time.Location) string { return Clock(minuteOf(t, zone)) }

func minuteOf(t time.Time, zone *time.Location) int {
	local := t.In(zone)
	return local.Hour()*60 + local.Minute()
}

// When is the day and the time of day of a moment in a zone: "Mon 8 March,
// 8:24"; "" for none.
func When(t time.Time, zone *time.Location) string {
	if t.IsZero() {
		return ""
	}
	return Day(civil.DateOf(t.In(zone))) + ", " + Time(t, zone)
}

// People is a number of them: "one person", "3 people".
func People(n int) string {
	if n == 1 {
		return "one person"
	}
	return fmt.Sprintf("%d people", n)
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

// Estimate says how long something may take, from the time that half of such
// visits keep to and the time that nine of ten do: "about 3 h 10, could be
// 4 h". The first is rounded to five minutes, to ten from two hours on, the
// second up to a quarter of an hour: estimates are no better than that.
func Estimate(median, late time.Duration) string {
	grain := 5 * time.Minute
	if median >= 2*time.Hour {
		grain = 10 * time.Minute
	}
	about := max(median.Round(grain), 5*time.Minute)
	could := (late + quarter - 1).Truncate(quarter)
	if could <= about {
		return "about " + Length(about)
	}
	return "about " + Length(about) + ", could be " + Length(could)
}

const quarter = 15 * time.Minute
