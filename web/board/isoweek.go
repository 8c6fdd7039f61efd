package board

import (
	"fmt"
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// isoWeek names the week of a day as ISO 8601 does: "2026-W48".
func isoWeek(d civil.Date) string {
	year, week := d.In(time.UTC).ISOWeek()
	return fmt.Sprintf("%04d-W%02d", year, week)
}

// monday is the first day of the week of a day.
func monday(d civil.Date) civil.Date {
	return d.AddDays(-(int(d.Weekday()) + 6) % 7)
}

// parseWeek reads a week's name and gives its Monday.
func parseWeek(text string) (civil.Date, bool) {
	var year, week int
	if n, err := fmt.Sscanf(text, "%4d-W%2d", &year, &week); n != 2 || err != nil || year < 2000 || year > 2200 {
		return civil.Date{}, false
	}
	// 4 January is always in week 1.
	first := monday(civil.Date{Year: year, Month: time.January, Day: 4}).AddDays((week - 1) * 7)
	return first, isoWeek(first) == text
}

// weekOf reads the week of the path.
func weekOf(c *gin.Context) (civil.Date, error) {
	first, ok := parseWeek(c.Param("week"))
	if !ok {
		return first, fault.New(fault.NotFound, "There is no such week. Weeks are named like 2026-W48.")
	}
	return first, nil
}
