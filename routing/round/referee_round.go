package round

import "drawbar/routing"

// round checks one round from getting up to going to bed.
func (j *referee) round(r *Round) {
	rig := j.rig[r.Rig]
	day := &rig.Days[r.Day]
	if day.Closed != "" {
		j.object(RuleClosed, r.Rig, r.Day, "", "closed: %s", day.Closed)
	}
	if r.Start < day.Start {
		j.object(RuleStart, r.Rig, r.Day, "", "starts at %d, before %d", r.Start, day.Start)
	}
	if r.End > day.Latest {
		j.object(RuleLatest, r.Rig, r.Day, "", "ends at %d, after %d", r.End, day.Latest)
	}
	if day.Longest > 0 && r.End-r.Start > day.Longest {
		j.object(RuleLongest, r.Rig, r.Day, "", "takes %d, more than %d", r.End-r.Start, day.Longest)
	}
	j.walk(r)
	j.work(r)
	j.cleanFirst(r)
	j.sums(r)
}

// position is where a rig is on a referee's walk.
type position struct {
	place string
	stop  *Stop // what it worked there; nil = nothing in this plan
	pack  int32 // of what stood there before the plan
	setUp bool
	class int
}

// crew names those who go with a round.
func (j *referee) crew(r *Round) string {
	if crew := j.rig[r.Rig].Days[r.Day].Crew; crew != "" {
		return crew
	}
	return r.Rig
}

// times are those of the crew of a round, else those of the rig.
func (j *referee) times(v *Visit, r *Round) Times {
	if t, known := v.Times[j.crew(r)]; known {
		return t
	}
	return v.Times[r.Rig]
}

// packs is how long it takes on a round to pack down what stands.
func (j *referee) packs(r *Round, at position) int32 {
	if at.stop == nil {
		return at.pack
	}
	return j.times(j.visit[at.stop.Visit], r).Pack
}

// before is where a rig stands in the morning: home (false) or out.
func (j *referee) before(r *Round) (position, bool) {
	out := position{}
	found := false
	rig := j.rig[r.Rig]
	if s := rig.Standing; s != nil {
		out, found = position{place: s.Place, pack: s.Pack, setUp: s.SetUp, class: s.Class}, true
	}
	for d := 0; d < r.Day; d++ {
		if q := j.rounds[rigDay{r.Rig, d}]; q != nil {
			found = j.night[rigDay{r.Rig, d}] != nil
			if n := len(q.Stops); n > 0 {
				s := &q.Stops[n-1]
				v := j.visit[s.Visit]
				out = position{v.Place, s, 0, true, v.Class}
			}
		}
	}
	return out, found
}

// lodgedBefore tells whether the crew slept with the rig, for a rig that was
// out the night before.
func (j *referee) lodgedBefore(r *Round) bool {
	if r.Day == 0 {
		return j.rig[r.Rig].Standing.Lodged
	}
	n := j.night[rigDay{r.Rig, r.Day - 1}]
	return n != nil && n.Lodged
}

// walk follows the rig through its day: places, drives, clock, set-up, packing
// and washing.
func (j *referee) walk(r *Round) {
	at, out := j.before(r)
	now := r.Start
	if out && !j.lodgedBefore(r) {
		j.drive(r, "", r.Fetch, j.rig[r.Rig].Home, at.place, true)
		now += seconds(r.Fetch)
	} else if r.Fetch != nil {
		j.object(RulePlace, r.Rig, r.Day, "", "fetches a rig that is with the crew")
	}
	if len(r.Stops) == 0 {
		j.bringHome(r, at, out, now)
		return
	}
	for i := range r.Stops {
		at, now = j.step(r, i, at, out || i > 0, now)
	}
	j.evening(r, at, now)
}

// bringHome checks a round without stops: a rig that stood out before the plan
// is taken home.
func (j *referee) bringHome(r *Round, at position, out bool, now int32) {
	if !out || at.stop != nil || j.night[rigDay{r.Rig, r.Day}] != nil {
		j.object(RulePlace, r.Rig, r.Day, "", "a round without work that takes no rig home")
		return
	}
	j.leaving(r, "", r.Pack, r.Wash, at.pack, j.p.Hygiene.Home[at.class])
	j.drive(r, "", r.Back, at.place, j.rig[r.Rig].Home, false)
	if now+r.Pack+r.Wash+seconds(r.Back) != r.End {
		j.object(RuleClock, r.Rig, r.Day, "", "ends at %d", r.End)
	}
}

// step goes to the i-th stop and through the work there.
func (j *referee) step(r *Round, i int, at position, out bool, now int32) (position, int32) {
	s := &r.Stops[i]
	v := j.visit[s.Visit]
	ready := j.reach(r, i, at, out, &now)
	if s.Arrive != now {
		j.object(RuleClock, r.Rig, r.Day, s.Visit, "arrives at %d, not %d", s.Arrive, now)
	}
	setUp := j.times(v, r).SetUp
	if ready {
		setUp = 0
	}
	if s.Ready-s.Arrive != setUp {
		j.object(RuleSetUp, r.Rig, r.Day, s.Visit, "sets up for %d, not %d", s.Ready-s.Arrive, setUp)
	}
	if s.Begin < s.Ready || s.Done < s.Begin || s.Leave != s.Done+s.Pack+s.Wash {
		j.object(RuleClock, r.Rig, r.Day, s.Visit, "ready %d, begins %d, done %d, leaves %d", s.Ready, s.Begin, s.Done, s.Leave)
	}
	return position{v.Place, s, 0, true, v.Class}, s.Leave
}

// reach checks how the rig gets to the i-th stop, and tells whether it stands
// there set up already.
func (j *referee) reach(r *Round, i int, at position, out bool, now *int32) bool {
	s := &r.Stops[i]
	v := j.visit[s.Visit]
	pack, wash := r.Pack, r.Wash
	if i > 0 {
		pack, wash = r.Stops[i-1].Pack, r.Stops[i-1].Wash
	} else {
		*now += pack + wash
	}
	switch {
	case !out:
		j.leaving(r, s.Visit, pack, wash, 0, 0)
		j.drive(r, s.Visit, s.Drive, j.rig[r.Rig].Home, v.Place, false)
	case at.stop != nil && at.stop.Visit == s.Visit:
		j.leaving(r, s.Visit, pack, wash, 0, 0)
		j.noDrive(r, s)
	case at.place == v.Place:
		j.leaving(r, s.Visit, pack, wash, 0, j.p.Hygiene.Between[at.class][v.Class])
		j.noDrive(r, s)
		return at.setUp
	default:
		j.leaving(r, s.Visit, pack, wash, j.packs(r, at), j.p.Hygiene.Between[at.class][v.Class])
		j.drive(r, s.Visit, s.Drive, at.place, v.Place, false)
	}
	*now += seconds(s.Drive)
	return out && at.stop != nil && at.stop.Visit == s.Visit
}

func (j *referee) leaving(r *Round, visit string, pack, wash, wantPack, wantWash int32) {
	if pack != wantPack {
		j.object(RulePack, r.Rig, r.Day, visit, "packing before it takes %d, not %d", pack, wantPack)
	}
	if wash != wantWash {
		j.object(RuleWash, r.Rig, r.Day, visit, "washing before it takes %d, not %d", wash, wantWash)
	}
}

func (j *referee) noDrive(r *Round, s *Stop) {
	if s.Drive != nil {
		j.object(RulePlace, r.Rig, r.Day, s.Visit, "drives to where it stands")
	}
}

// table is the rig's own table, or the one for all.
func (j *referee) table(rig string, solo bool) *routing.Table {
	own, all := j.rig[rig].Towing, j.p.Towing
	if solo {
		own, all = j.rig[rig].Solo, j.p.Solo
	}
	if own == nil {
		return all
	}
	return own
}

// drive checks a leg against the table.
func (j *referee) drive(r *Round, visit string, d *Drive, from, to string, solo bool) {
	if d == nil {
		j.object(RulePlace, r.Rig, r.Day, visit, "no drive from %s to %s", from, to)
		return
	}
	if d.From != from || d.To != to || d.Solo != solo {
		j.object(RulePlace, r.Rig, r.Day, visit, "drives %s to %s (solo %v), not %s to %s (solo %v)", d.From, d.To, d.Solo, from, to, solo)
		return
	}
	table := j.table(r.Rig, solo)
	a, _ := table.Index(from)
	b, _ := table.Index(to)
	leg := table.At(a, b)
	if !leg.Reachable {
		j.object(RuleReach, r.Rig, r.Day, visit, "no way from %s to %s", from, to)
	}
	if d.Seconds != leg.Seconds || d.Metres != leg.Metres || d.Estimate != leg.Estimate {
		j.object(RuleDrive, r.Rig, r.Day, visit, "%s to %s: %+v, table %+v", from, to, *d, leg)
	}
}

func seconds(d *Drive) int32 {
	if d == nil {
		return 0
	}
	return d.Seconds
}

// evening checks the way to bed after the last stop.
func (j *referee) evening(r *Round, at position, now int32) {
	last := &r.Stops[len(r.Stops)-1]
	home := j.rig[r.Rig].Home
	night := j.night[rigDay{r.Rig, r.Day}]
	if night == nil {
		j.leaving(r, last.Visit, last.Pack, last.Wash, j.packs(r, at), j.p.Hygiene.Home[at.class])
		j.drive(r, last.Visit, r.Back, at.place, home, false)
	} else {
		j.leaving(r, last.Visit, last.Pack, last.Wash, 0, 0)
		if night.Lodged && r.Back != nil {
			j.object(RuleNight, r.Rig, r.Day, last.Visit, "lodges but drives home")
		}
		if !night.Lodged {
			j.drive(r, last.Visit, r.Back, at.place, home, true)
		}
	}
	if now+seconds(r.Back) != r.End {
		j.object(RuleClock, r.Rig, r.Day, "", "ends at %d, not %d", r.End, now+seconds(r.Back))
	}
}
