package phone

import (
	"net/http"
	"slices"

	"drawbar/booking"
	"drawbar/booking/say"
	"drawbar/booking/schedule"
	"drawbar/web/session"
	"drawbar/web/view"

	"cloud.google.com/go/civil"
	"github.com/gin-gonic/gin"
)

// todayPage is one rig's round.
type todayPage struct {
	Day            civil.Date
	Today          bool
	Previous, Next civil.Date
	Rigs           []booking.Rig
	Round          schedule.Round
	Lines          []line
}

// line is a drive or a stop of the round, in order of time.
type line struct {
	At   int // minutes after midnight
	Stop *schedule.Stop
	Leg  *schedule.Leg
	To   string
	rig  booking.Rig
}

// Clock is a minute of the day in words.
func (line) Clock(minute int) string { return say.Minute(minute) }

// Bring is what to take along and mind at a stop.
func (l line) Bring() []string { return bring(l.Stop.Booking, l.Stop.Farm, l.Stop.Yard, l.rig) }

// Km is the length of the drive.
func (l line) Km() int { return (l.Leg.Metres + 500) / 1000 }

// Minutes of the drive.
func (l line) Minutes() int { return (l.Leg.Seconds + 30) / 60 }

func (p *phone) today(c *gin.Context) error {
	business, err := p.Store.Business(c.Request.Context())
	if err != nil {
		return err
	}
	today := business.Today(p.Now())
	day, err := civil.ParseDate(c.Query("day"))
	if err != nil {
		day = today
	}
	week, err := p.Planner.Week(c.Request.Context(), day, 1)
	if err != nil {
		return err
	}
	page := todayPage{Day: day, Today: day == today, Previous: day.AddDays(-1), Next: day.AddDays(1), Rigs: week.Rigs}
	page.choose(week, booking.ID(c.Query("rig")), session.Person(c).ID)
	return view.Render(c, http.StatusOK, pages, "today", page)
}

// choose takes the round of the rig that was asked for, else of the rig the
// person goes with, else the first.
func (t *todayPage) choose(week *schedule.Week, rig, person booking.ID) {
	rounds := week.Days[0].Rounds
	if len(rounds) == 0 {
		return
	}
	i := slices.IndexFunc(rounds, func(r schedule.Round) bool { return r.Rig.ID == rig })
	if i < 0 {
		i = slices.IndexFunc(rounds, func(r schedule.Round) bool { return slices.Contains(r.Rig.Crew, person) })
	}
	t.Round = rounds[max(i, 0)]
	t.lay()
}

// lay puts drives and stops in order of time.
func (t *todayPage) lay() {
	names := map[string]string{"home": "home"}
	for i := range t.Round.Stops {
		s := &t.Round.Stops[i]
		names[string(s.Yard.ID)] = s.Farm.Name
		t.Lines = append(t.Lines, line{At: s.Arrive, Stop: s, rig: t.Round.Rig})
	}
	for i := range t.Round.Legs {
		l := &t.Round.Legs[i]
		to := names[l.End]
		if to == "" {
			to = "the rig"
		}
		t.Lines = append(t.Lines, line{At: l.From, Leg: l, To: to})
	}
	slices.SortStableFunc(t.Lines, func(a, b line) int { return a.At - b.At })
}
