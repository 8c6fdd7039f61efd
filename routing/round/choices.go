package round

import "drawbar/routing/round/internal/search"

// choices are the rigs, days and windows at which a visit may begin, with
// every rule applied that does not depend on other visits.
func (c *compiler) choices(v *Visit) []search.Choice {
	var out []search.Choice
	for r := range c.p.Rigs {
		if v.Pin != nil && v.Pin.Rig != "" && v.Pin.Rig != c.p.Rigs[r].ID || !fits(c.p.Rigs[r].Size, v.Limits) {
			continue
		}
		for d := range lastDay(c.p, v) + 1 {
			out = c.onDay(out, v, r, d)
		}
	}
	return out
}

func fits(s, limits Size) bool {
	fit := func(is, limit int32) bool { return limit == 0 || is <= limit }
	return fit(s.Width, limits.Width) && fit(s.Length, limits.Length) &&
		fit(s.Height, limits.Height) && fit(s.Mass, limits.Mass)
}

// lastDay is the last day on which a visit may be worked.
func lastDay(p *Problem, v *Visit) int {
	if v.DoneWithin > 0 {
		return min(v.DoneWithin, p.Days) - 1
	}
	return p.Days - 1
}

// onDay adds the choices of one rig and day.
func (c *compiler) onDay(out []search.Choice, v *Visit, r, d int) []search.Choice {
	rig, day := &c.p.Rigs[r], &c.p.Rigs[r].Days[d]
	if day.Closed != "" || !v.mayTake(rig, d) || !equipped(rig, day, v) || !c.aired(rig, v.Class, d) {
		return out
	}
	if v.Pin != nil && v.Pin.Day != AnyDay && v.Pin.Day != d {
		return out
	}
	at := search.Choice{Rig: int32(r), Day: int32(d)}
	for _, w := range windowsOn(v, d) {
		if v.Pin != nil && v.Pin.Start != AnyTime {
			w.From, w.To = max(w.From, v.Pin.Start), min(w.To, v.Pin.Start)
		}
		out = c.promised(out, v, at, w)
	}
	return out
}

// able tells, for a visit that may be split, which rigs can work it on which
// days, whatever its windows.
func (c *compiler) able(v *Visit) [][]bool {
	if v.MinChunk == 0 {
		return nil
	}
	out := make([][]bool, len(c.p.Rigs))
	for r := range c.p.Rigs {
		rig := &c.p.Rigs[r]
		out[r] = make([]bool, c.p.Days)
		for d := range out[r] {
			out[r][d] = rig.Days[d].Closed == "" && v.mayTake(rig, d) && equipped(rig, &rig.Days[d], v)
		}
	}
	return out
}

func equipped(rig *Rig, day *RigDay, v *Visit) bool {
	for _, need := range v.Needs {
		if !has(rig.Has, need) && !has(day.Skills, need) {
			return false
		}
	}
	return true
}

func has(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// aired tells whether the yards a rig was at before the plan are long enough
// ago for a class.
func (c *compiler) aired(rig *Rig, class, d int) bool {
	for _, past := range rig.Visited {
		if d+past.DaysAgo < c.p.Hygiene.Wait[past.Class][class] {
			return false
		}
	}
	return true
}

// windowsOn are the windows of a visit on a day; the whole day without any.
func windowsOn(v *Visit, d int) []Window {
	if len(v.Windows) == 0 {
		return []Window{{To: Day}}
	}
	var out []Window
	for _, w := range v.Windows {
		if w.FromDay <= d && d <= w.ToDay {
			out = append(out, w)
		}
	}
	return out
}

// promised adds a window, with what moving a promise costs there: the part
// around the promised time, and the whole for the price of another time.
func (c *compiler) promised(out []search.Choice, v *Visit, at search.Choice, w Window) []search.Choice {
	costs := c.p.Costs
	extra := w.Extra
	p := v.Promise
	if p != nil && p.Rig != c.p.Rigs[at.Rig].ID {
		extra += costs.MoveRig
	}
	switch {
	case p != nil && p.Day != int(at.Day):
		extra += costs.MoveDay
	case p != nil && costs.MoveTime > 0:
		kept := w
		kept.From, kept.To = max(w.From, p.Start-costs.Tolerance), min(w.To, p.Start+costs.Tolerance)
		out = addChoice(out, at, kept, extra)
		extra += costs.MoveTime
	}
	return addChoice(out, at, w, extra)
}

func addChoice(out []search.Choice, at search.Choice, w Window, extra int64) []search.Choice {
	if w.From > w.To {
		return out
	}
	at.Early, at.Late, at.Extra = w.From, w.To, extra*int64(TicksPerMinor)
	return append(out, at)
}
