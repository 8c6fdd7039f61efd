package phone

import (
	"fmt"
	"math"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/say"
	"drawbar/web/view"
)

// live is how the counting goes, in words; phone-pace.js says the same from
// the events on the phone.
type live struct {
	Big  string // "Done about 15:40"
	More string // "could be 16:20 · 78 head an hour"
}

// rateOf is what an estimate says of the pace; zero where there is none.
func rateOf(e pace.Estimate) pace.Rate {
	if e.HeadPerHour == 0 {
		return pace.Rate{}
	}
	return e.Rate()
}

// weight is the time that a head of a mob takes, against the mean of the
// booking; 1 for a mob that was not estimated.
func (a around) weight(id booking.ID) float64 {
	var seconds, head, own float64
	for i, m := range a.estimate.Mobs {
		n := float64(a.booking.Mobs[i].Head)
		seconds, head = seconds+m.SecondsPerHead*n, head+n
		if a.booking.Mobs[i].ID == id {
			own = m.SecondsPerHead
		}
	}
	if own == 0 {
		return 1
	}
	return own * head / seconds
}

// weighed are the head counted and all head of this visit, each weighed by
// the time it takes. Where the booking is spread over several visits nobody
// knows which mobs come today, only how much of the work.
func (s state) weighed() (counted, all float64) {
	left := float64(s.Head - s.Docket.Lost(""))
	for _, m := range s.Mobs {
		counted += m.Weight * float64(m.Worked)
	}
	if s.Parts > 1 {
		return counted, max(left, counted)
	}
	left = 0
	for _, m := range s.Mobs {
		left += m.Weight * float64(max(0, m.Booked-m.Worked-s.Docket.Lost(m.ID)))
	}
	return counted, counted + left
}

// live is pace and finish at an instant.
func (s state) live(now time.Time, zone *time.Location) live {
	if s.Rate.Beta == 0 {
		return live{}
	}
	counted, all := s.weighed()
	l := s.Rate.After(counted, all, s.Docket.Worked(now))
	speed := l.HeadPerHour
	if counted > 0 {
		speed *= float64(s.Docket.Head()) / counted
	}
	perHour := fmt.Sprintf("%.0f head an hour", math.Round(speed))
	if all <= counted {
		return live{"All counted", perHour}
	}
	if s.Step == "pause" {
		about, could := max(l.Done.Round(grain), grain), (l.Late + grain - 1).Truncate(grain)
		return live{"About " + say.Length(about) + " left", couldBe(could > about, say.Length(could)) + perHour}
	}
	about, could := now.Add(l.Done).Round(grain), now.Add(l.Late+grain-1).Truncate(grain)
	return live{"Done about " + view.Clock(about, zone), couldBe(could.After(about), view.Clock(could, zone)) + perHour}
}

// couldBe says when it could be, if that is later.
func couldBe(later bool, when string) string {
	if !later {
		return ""
	}
	return "could be " + when + " · "
}

// grain is how finely times are said: an estimate is no better.
const grain = 5 * time.Minute
