package round

import (
	"fmt"
	"slices"
)

// Limits on a Problem, so that nothing overflows and a slip is noticed.
const (
	MaxDays   = 366
	MaxVisits = 5000
	MaxRigs   = 200
	MaxPrice  = 100_000_000 // minor units
)

// InputError says what in a Problem or an Options cannot be used.
type InputError struct {
	Field    string // a path such as visits[3].times[A].work
	Sentence string
}

// Error gives the field and the sentence.
func (e *InputError) Error() string { return "round: " + e.Field + ": " + e.Sentence }

func bad(field, format string, args ...any) error {
	return &InputError{Field: field, Sentence: fmt.Sprintf(format, args...)}
}

// Check tells whether the problem can be planned at all. The error is an
// *InputError.
func (p *Problem) Check() error {
	steps := []func() error{p.checkFrame, p.checkRigs, p.checkVisits, p.checkHygiene, p.checkCosts}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) checkFrame() error {
	switch {
	case p.Days < 1 || p.Days > MaxDays:
		return bad("days", "Plan between 1 and %d days, not %d.", MaxDays, p.Days)
	case p.Towing == nil:
		return bad("towing", "The table of driving times is missing.")
	case p.Solo == nil:
		return bad("solo", "The table of driving times without the rig is missing.")
	case len(p.Daylight) != p.Days:
		return bad("daylight", "Give daylight for each of %d days, not %d.", p.Days, len(p.Daylight))
	case len(p.Rigs) > MaxRigs:
		return bad("rigs", "At most %d rigs, not %d.", MaxRigs, len(p.Rigs))
	case len(p.Visits) > MaxVisits:
		return bad("visits", "At most %d visits, not %d.", MaxVisits, len(p.Visits))
	}
	return p.checkTables()
}

func (p *Problem) checkTables() error {
	if err := samePlaces("solo", p.Towing, p.Solo); err != nil {
		return err
	}
	for d, s := range p.Daylight {
		if s.From < 0 || s.To > Day || s.From > s.To {
			return bad(fmt.Sprintf("daylight[%d]", d), "Daylight runs from %d to %d seconds of the day.", s.From, s.To)
		}
	}
	return nil
}

func (p *Problem) checkPlace(field, id string) error {
	if _, ok := p.Towing.Index(id); !ok {
		return bad(field, "Place %q is not in the table of driving times.", id)
	}
	return nil
}

func (p *Problem) checkRigs() error {
	seen := map[string]bool{}
	for i := range p.Rigs {
		r, field := &p.Rigs[i], fmt.Sprintf("rigs[%d]", i)
		if r.ID == "" || seen[r.ID] {
			return bad(field+".id", "Every rig needs an id of its own; %q will not do.", r.ID)
		}
		seen[r.ID] = true
		if err := p.checkRig(field, r); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) checkRig(field string, r *Rig) error {
	if err := p.checkPlace(field+".home", r.Home); err != nil {
		return err
	}
	if err := checkSize(field+".size", r.Size); err != nil {
		return err
	}
	if err := p.checkDrives(field, r); err != nil {
		return err
	}
	if len(r.Days) != p.Days {
		return bad(field+".days", "Give each of %d days, not %d.", p.Days, len(r.Days))
	}
	for d := range r.Days {
		if err := checkRigDay(fmt.Sprintf("%s.days[%d]", field, d), &r.Days[d]); err != nil {
			return err
		}
	}
	return p.checkPast(field, r)
}

func checkRigDay(field string, d *RigDay) error {
	switch {
	case d.Closed != "":
		return nil
	case d.Start < 0 || d.End < d.Start:
		return bad(field+".end", "The day starts at %d and ends at %d.", d.Start, d.End)
	case d.Latest < d.End || d.Latest > Day:
		return bad(field+".latest", "The latest end, %d, lies between the end, %d, and midnight.", d.Latest, d.End)
	case d.Longest < 0:
		return bad(field+".longest", "The longest day cannot be %d seconds.", d.Longest)
	case d.MaxLoad < 0:
		return bad(field+".maxLoad", "The most load cannot be %d.", d.MaxLoad)
	}
	return nil
}

func (p *Problem) checkPast(field string, r *Rig) error {
	for i, v := range r.Visited {
		if v.DaysAgo < 1 || v.Class < 0 || v.Class >= Classes {
			return bad(fmt.Sprintf("%s.visited[%d]", field, i), "Class %d, %d days ago, is not a past visit.", v.Class, v.DaysAgo)
		}
	}
	s := r.Standing
	if s == nil {
		return nil
	}
	field += ".standing"
	if s.Class < 0 || s.Class >= Classes {
		return bad(field+".class", "Hygiene classes are 0 to %d, not %d.", Classes-1, s.Class)
	}
	if s.Pack < 0 || s.Pack > Day || s.Pack > 0 && !s.SetUp {
		return bad(field+".pack", "Packing down %d seconds does not fit a rig that is set up: %v.", s.Pack, s.SetUp)
	}
	if r.Days[0].AtHome {
		return bad(field, "The rig has to be at home for day 0 but stands at %q.", s.Place)
	}
	return p.checkPlace(field+".place", s.Place)
}

func (p *Problem) checkVisits() error {
	rigs, crews := map[string]bool{}, map[string]bool{}
	for i := range p.Rigs {
		rig := &p.Rigs[i]
		rigs[rig.ID], crews[rig.ID] = true, true
		for d := range rig.Days {
			crews[rig.crew(d)] = true
		}
	}
	seen := map[string]bool{}
	for i := range p.Visits {
		v, field := &p.Visits[i], fmt.Sprintf("visits[%d]", i)
		if v.ID == "" || seen[v.ID] {
			return bad(field+".id", "Every visit needs an id of its own; %q will not do.", v.ID)
		}
		seen[v.ID] = true
		if err := p.checkVisit(field, v, rigs); err != nil {
			return err
		}
		if err := v.checkTimes(field, crews); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) checkVisit(field string, v *Visit, rigs map[string]bool) error {
	if err := p.checkPlace(field+".place", v.Place); err != nil {
		return err
	}
	if err := checkSize(field+".limits", v.Limits); err != nil {
		return err
	}
	switch {
	case v.Class < 0 || v.Class >= Classes:
		return bad(field+".class", "Hygiene classes are 0 to %d, not %d.", Classes-1, v.Class)
	case v.DoneWithin < 0:
		return bad(field+".doneWithin", "It cannot be done within %d days.", v.DoneWithin)
	case v.Load < 0:
		return bad(field+".load", "The load cannot be %d.", v.Load)
	case v.MinChunk < 0 || v.MinChunk > 0 && v.MinChunk < minChunk:
		return bad(field+".minChunk", "The least work of a day is at least %d seconds, or 0 to never split.", minChunk)
	}
	if err := checkPrice(field+".value", v.Value); err != nil {
		return err
	}
	for _, check := range []func(string, *Visit, map[string]bool) error{p.checkWindows, p.checkPin, p.checkPromise} {
		if err := check(field, v, rigs); err != nil {
			return err
		}
	}
	return nil
}

// minChunk keeps the ways to split a visit few.
const minChunk = 15 * 60

func (v *Visit) checkTimes(field string, crews map[string]bool) error {
	ids := make([]string, 0, len(v.Times))
	for id := range v.Times {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		t, field := v.Times[id], fmt.Sprintf("%s.times[%s]", field, id)
		if !crews[id] {
			return bad(field, "There is no rig and no crew %q.", id)
		}
		for _, part := range []struct {
			name    string
			seconds int32
		}{{"setUp", t.SetUp}, {"work", t.Work}, {"pack", t.Pack}, {"late80", t.Late80}, {"late90", t.Late90}} {
			if part.seconds < 0 || part.seconds > maxWork {
				return bad(field+"."+part.name, "Give between 0 and %d seconds, not %d.", maxWork, part.seconds)
			}
		}
	}
	return nil
}

// maxWork is a fortnight of days and nights, more than any visit takes.
const maxWork = 14 * Day

func (p *Problem) checkWindows(field string, v *Visit, _ map[string]bool) error {
	for i, w := range v.Windows {
		field := fmt.Sprintf("%s.windows[%d]", field, i)
		switch {
		case w.FromDay > w.ToDay:
			return bad(field+".toDay", "The window ends on day %d, before it begins on day %d.", w.ToDay, w.FromDay)
		case w.From < 0 || w.To > Day || w.From > w.To:
			return bad(field+".to", "The window runs from %d to %d seconds of the day.", w.From, w.To)
		}
		if err := checkPrice(field+".extra", w.Extra); err != nil {
			return err
		}
	}
	return nil
}

func (p *Problem) checkPin(field string, v *Visit, rigs map[string]bool) error {
	pin := v.Pin
	if pin == nil {
		return nil
	}
	field += ".pin"
	switch {
	case pin.Rig != "" && !rigs[pin.Rig]:
		return bad(field+".rig", "There is no rig %q.", pin.Rig)
	case pin.Day != AnyDay && (pin.Day < 0 || pin.Day >= p.Days):
		return bad(field+".day", "Day %d is not among the %d planned.", pin.Day, p.Days)
	case pin.Start != AnyTime && (pin.Start < 0 || pin.Start > Day):
		return bad(field+".start", "%d is no time of day.", pin.Start)
	}
	return nil
}

func (p *Problem) checkPromise(field string, v *Visit, _ map[string]bool) error {
	if v.Promise == nil {
		return nil
	}
	if s := v.Promise.Start; s < 0 || s > Day {
		return bad(field+".promise.start", "%d is no time of day.", s)
	}
	return nil
}

func (p *Problem) checkHygiene() error {
	for i := range Classes {
		if w := p.Hygiene.Home[i]; w < 0 || w > Day {
			return bad(fmt.Sprintf("hygiene.home[%d]", i), "Washing down cannot take %d seconds.", w)
		}
		for j := range Classes {
			if w := p.Hygiene.Between[i][j]; w < 0 || w > Day {
				return bad(fmt.Sprintf("hygiene.between[%d][%d]", i, j), "Washing down cannot take %d seconds.", w)
			}
			if w := p.Hygiene.Wait[i][j]; w < 0 || w > MaxDays {
				return bad(fmt.Sprintf("hygiene.wait[%d][%d]", i, j), "Nobody waits %d days.", w)
			}
		}
	}
	return nil
}

func (p *Problem) checkCosts() error {
	c := p.Costs
	for _, price := range []struct {
		name  string
		minor int64
	}{
		{"hour", c.Hour}, {"overtimeHour", c.OvertimeHour}, {"km", c.Km}, {"soloKm", c.SoloKm},
		{"rigDay", c.RigDay}, {"nightOut", c.NightOut}, {"lateHour", c.LateHour},
		{"moveDay", c.MoveDay}, {"moveTime", c.MoveTime}, {"moveRig", c.MoveRig},
	} {
		if err := checkPrice("costs."+price.name, price.minor); err != nil {
			return err
		}
	}
	if c.Tolerance < 0 {
		return bad("costs.tolerance", "The tolerance cannot be %d seconds.", c.Tolerance)
	}
	return nil
}

func checkPrice(field string, minor int64) error {
	if minor < 0 || minor > MaxPrice {
		return bad(field, "Prices are between 0 and %d minor units, not %d.", int64(MaxPrice), minor)
	}
	return nil
}

func checkSize(field string, s Size) error {
	for _, side := range []struct {
		name string
		is   int32
	}{{"width", s.Width}, {"length", s.Length}, {"height", s.Height}, {"mass", s.Mass}} {
		if side.is < 0 {
			return bad(field+"."+side.name, "A size cannot be %d.", side.is)
		}
	}
	return nil
}
