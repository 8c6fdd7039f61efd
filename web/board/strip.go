package board

import (
	"fmt"

	"drawbar/booking"
	"drawbar/booking/say"
	"drawbar/booking/schedule"
)

// scale turns minutes after midnight into places along a strip.
type scale struct{ From, To int }

// scaleOf shows the hours from the earliest to the latest thing of a week, at
// least 6 to 20 o'clock.
func scaleOf(days []schedule.Day) scale {
	s := scale{6 * 60, 20 * 60}
	for _, d := range days {
		for _, r := range d.Rounds {
			for _, l := range r.Legs {
				s.From, s.To = min(s.From, l.From), max(s.To, l.To)
			}
			for _, stop := range r.Stops {
				s.From, s.To = min(s.From, stop.Arrive), max(s.To, stop.Late)
			}
		}
	}
	return scale{max(s.From/60*60, 0), min((s.To+59)/60*60, 30*60)}
}

// at is a minute's place, in per cent of the strip.
func (s scale) at(minute int) float64 {
	return float64(min(max(minute, s.From), s.To)-s.From) / float64(s.To-s.From) * 100
}

// bar is a stretch along a strip, ready for SVG attributes.
type bar struct{ X, W string }

func (s scale) bar(from, to int) bar {
	x := s.at(from)
	return bar{fmt.Sprintf("%.2f%%", x), fmt.Sprintf("%.2f%%", max(s.at(to)-x, 0))}
}

// hour is a mark above the strips.
type hour struct{ X, Label string }

func (s scale) hours() []hour {
	var marks []hour
	for h := (s.From/60 + 1) / 2 * 2; h*60 < s.To; h += 2 {
		if h*60 > s.From {
			marks = append(marks, hour{fmt.Sprintf("%.2f%%", s.at(h*60)), fmt.Sprint(h % 24)})
		}
	}
	return marks
}

// strip is one rig's day, drawn.
type strip struct {
	schedule.Round
	Light  bar
	Hours  []hour
	Drives []drive
	Stops  []stop
}

type drive struct {
	X1, X2 string
	Solo   bool
}

// stop is one visit, drawn. Room is how far its name may run.
type stop struct {
	schedule.Stop
	SetUp, Work, Fade, Pack, Wash, Room bar
	Ask                                 bool
}

// slim is the height of a strip without visits, tall of one with some.
const slim, tall = 22, 62

// Height of the strip, in pixels.
func (s strip) Height() int {
	if len(s.Stops) == 0 {
		return slim
	}
	return tall
}

func (s scale) strip(r schedule.Round, light schedule.Span) strip {
	drawn := strip{Round: r, Light: s.bar(light.From, light.To), Hours: s.hours()}
	for _, l := range r.Legs {
		drawn.Drives = append(drawn.Drives, drive{s.bar(l.From, l.To).X, s.bar(l.To, l.To).X, l.Solo})
	}
	for i, st := range r.Stops {
		room, fade := s.To, st.Late
		if i+1 < len(r.Stops) {
			room, fade = r.Stops[i+1].Working-4, min(fade, r.Stops[i+1].Arrive)
		}
		drawn.Stops = append(drawn.Stops, stop{
			Stop: st, Ask: len(st.Concerns) > 0,
			SetUp: s.bar(st.Arrive, st.Working), Work: s.bar(st.Working, st.Finish), Fade: s.bar(st.Finish, max(fade, st.Finish)),
			Pack: s.bar(st.Finish, st.Packed), Wash: s.bar(st.Packed, st.Leave), Room: s.bar(st.Working, max(room, st.Finish)),
		})
	}
	return drawn
}

// Clock is a minute of the day in words: "7:24".
func (stop) Clock(minute int) string { return say.Minute(minute) }

// Mark says in a word how firm the visit is.
func (s stop) Mark() string {
	switch {
	case s.Visit.State == booking.Fixed:
		return "● "
	case s.Booking.State == booking.Offered && s.Visit.State == booking.Pencilled:
		return "? "
	case s.Visit.State == booking.SignedOff:
		return "✓ "
	case s.Visit.State == booking.UnderWay:
		return "▶ "
	}
	return ""
}

// Standing is how firm the visit is, for the list.
func (s stop) Standing() string {
	if s.Visit.State == booking.Pencilled && s.Booking.State == booking.Offered {
		return "offered"
	}
	return string(s.Visit.State)
}

// Name of the stop, with its part where the work is spread over days.
func (s stop) Name() string {
	if s.Visit.Parts > 1 {
		return fmt.Sprintf("%s, day %d of %d", s.Farm.Name, s.Visit.Part, s.Visit.Parts)
	}
	return s.Farm.Name
}

// Animals are what is worked on this visit: "240 ewes", "350 of 600 ewes".
func (s stop) Animals() string {
	if s.Visit.Parts > 1 {
		return fmt.Sprintf("%d of %s", s.Visit.Head, s.Booking.MobsInWords())
	}
	return s.Booking.MobsInWords()
}
