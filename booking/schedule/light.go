package schedule

import (
	"drawbar/booking/season"

	"cloud.google.com/go/civil"
)

// daylight is dawn to dusk at the home yard: yards of one round are close
// enough to share it.
func (w *world) daylight(day civil.Date) Span {
	light, err := season.Daylight(day, w.business.Home, w.zone)
	if err != nil {
		return Span{0, 24 * 60} // a home without a position: no limit is known
	}
	return Span{w.minute(day, light.Civil.From), w.minute(day, light.Civil.To)}.within()
}

// within cuts a span to the day.
func (s Span) within() Span {
	return Span{max(s.From, 0), min(max(s.To, 0), 24*60)}
}
