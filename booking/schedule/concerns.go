package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// rounding is what cutting times to whole minutes may add up to.
const rounding = 3

// concerns are the rules that the i-th stop of a round breaks, in sentences.
// They are the same for a plan and for a visit moved by hand.
func (w *world) concerns(d *Day, r *Round, i int) []string {
	s := &r.Stops[i]
	var all []string
	add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	if r.Off != "" {
		add("%s does not go out that day: %s.", r.Rig.Name, r.Off)
	}
	if why := w.cannotCome(r.Rig, s.Booking); why != "" {
		add("%s", why)
	}
	if why := cmp.Or(w.lacksOn(r.Rig, d.Date, s.Booking), w.fewer(r.Rig, d.Date, s)); why != "" && r.Off == "" {
		add("%s", why)
	}
	if !s.suits() {
		add("Not a time the farmer named (%s).", windowsInWords(s.Booking.Windows))
	}
	if s.Working < d.Light.From && !s.Yard.Lights {
		add("Work would begin at %s, before it is light at %s.", say.Minute(s.Working), say.Minute(d.Light.From))
	}
	if s.Late > d.Light.To && !s.Yard.Lights {
		add("Could run to %s; it is dark from %s.", say.Minute(s.Late), say.Minute(d.Light.To))
	}
	all = append(all, w.tooSoon(r, i)...)
	all = append(all, w.hours(r, i)...)
	if s.Visit.Overnight {
		all = append(all, w.neededAway(r.Rig, d.Date)...)
	}
	return all
}

// neededAway says for which day a rig that stays at a yard after some day has
// to be at home before it moves on.
func (w *world) neededAway(rig booking.Rig, after civil.Date) []string {
	for day := after.AddDays(1); !day.After(w.to); day = day.AddDays(1) {
		if off := w.off[rigDate{rig.ID, day}]; off.Needed {
			return []string{fmt.Sprintf("%s stays at the yard, but has to be at home the night before %s: %s.", rig.Name, say.Day(day), off.Reason)}
		}
		if slices.ContainsFunc(w.visits, func(v booking.Visit) bool { return v.RigID == rig.ID && v.Day == day }) {
			break
		}
	}
	return nil
}

// suits tells whether the stop is at a day and time the farmer named.
func (s *Stop) suits() bool {
	for _, w := range s.Booking.Windows {
		span := partOfDay(w.Part)
		if !s.Visit.Day.Before(w.From) && !s.Visit.Day.After(w.To) && s.Working*minute >= int(span.From) && s.Working*minute <= int(span.To) {
			return true
		}
	}
	return false
}

func windowsInWords(windows []booking.Window) string {
	text := ""
	for i, w := range windows {
		if i > 0 {
			text += "; "
		}
		text += w.InWords()
	}
	return text
}

// tooSoon checks the drive from the stop before, and the order of flocks.
func (w *world) tooSoon(r *Round, i int) []string {
	if i == 0 {
		return nil
	}
	before, s := &r.Stops[i-1], &r.Stops[i]
	var all []string
	drive := leg(w.drives(r.Rig.ID).towing, string(before.Yard.ID), string(s.Yard.ID))
	if short := before.Leave + minutesOf(drive) - s.Arrive; before.Yard.ID != s.Yard.ID && short > rounding {
		all = append(all, fmt.Sprintf("%s is left at %s and the drive takes %s: %s too little.",
			before.Farm.Name, say.Minute(before.Leave), minutesInWords(minutesOf(drive)), minutesInWords(short)))
	}
	if before.Farm.Hygiene > s.Farm.Hygiene {
		all = append(all, fmt.Sprintf("Comes after %s, whose flock health is %q; clean flocks go first.", before.Farm.Name, before.Farm.Hygiene))
	}
	return all
}

// hours checks that the crew can be there in its hours.
func (w *world) hours(r *Round, i int) []string {
	var all []string
	starts := max(r.Rig.DayStart, w.off[rigDate{r.Rig.ID, r.Stops[i].Visit.Day}].From)
	if first := r.start(); i == 0 && first < starts-rounding {
		all = append(all, fmt.Sprintf("The crew would have to leave at %s; its day starts at %s.", say.Minute(first), say.Minute(starts)))
	}
	if i == len(r.Stops)-1 && r.end() > r.Rig.DayEnd+overtime/minute {
		all = append(all, fmt.Sprintf("The crew would be home at %s; its day ends at %s.", say.Minute(r.end()), say.Minute(r.Rig.DayEnd)))
	}
	return all
}

// start is when the round's first drive begins.
func (r *Round) start() int {
	first := r.Stops[0].Arrive
	for _, l := range r.Legs {
		first = min(first, l.From)
	}
	return first
}

// end is when the round's last drive is over.
func (r *Round) end() int {
	last := r.Stops[len(r.Stops)-1].Leave
	for _, l := range r.Legs {
		last = max(last, l.To)
	}
	return last
}

func minutesInWords(n int) string { return say.Length(time.Duration(n) * time.Minute) }
