package phone

import (
	"drawbar/booking"
	"drawbar/jobs"
	"drawbar/web/session"

	"github.com/gin-gonic/gin"
)

// lastCount is the newest count by this person that stands; "" for none. A
// phone with a script knows its own and does not ask.
func (p *phone) lastCount(c *gin.Context, visit booking.ID) (booking.ID, error) {
	events, err := p.Jobs.Events(c.Request.Context(), visit)
	if err != nil {
		return "", err
	}
	return lastCountOf(events, session.Person(c).ID), nil
}

func lastCountOf(events []jobs.Event, person booking.ID) (last booking.ID) {
	struck := map[booking.ID]bool{}
	for _, e := range events {
		if s, ok := e.What.(jobs.Strike); ok {
			struck[s.Event] = true
		}
	}
	for _, e := range events {
		if e.Kind == jobs.Counted && e.Person == person && !struck[e.ID] {
			last = e.ID
		}
	}
	return last
}
