package schedule

import (
	"math"
	"slices"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

const (
	minute = 60 // seconds
	// overtime is how long after its day's end a rig may still be out.
	overtime = 120 * minute
	// leastPart is the least work of a day when a booking is spread over days.
	leastPart = 2 * 60 * minute
	// notice is how far ahead today's work has to be to be planned at all.
	noticeMinutes = 60
)

// problem is a world as the planner sees it, with what is needed to read the
// plan back.
type problem struct {
	*world
	round.Problem
	crews     map[booking.ID]map[string]int       // how many they are, by rig, then crew
	ask       map[string]booking.Booking          // by the planner's visit id
	estimates map[string]map[string]pace.Estimate // by visit id, then crew
	stored    map[string]map[string]round.Times   // where a visit keeps the times it was placed with
	held      map[string]booking.Visit            // visits that stay where they are
	stays     map[booking.ID]bool                 // bookings whose day is not this plan's to choose
	stuck     map[booking.ID]string               // bookings the planner is not asked about, with the reason
}

// pose builds the planner's problem from the world. may tells which visits it
// may move.
func (p *Planner) pose(w *world, may func(booking.Visit) bool) *problem {
	pb := &problem{
		world: w, ask: map[string]booking.Booking{}, estimates: map[string]map[string]pace.Estimate{},
		stored: map[string]map[string]round.Times{}, crews: map[booking.ID]map[string]int{}, held: map[string]booking.Visit{}, stuck: map[booking.ID]string{}, stays: map[booking.ID]bool{},
	}
	pb.Days, pb.Towing, pb.Solo = w.days(), w.travel.any.towing, w.travel.any.solo
	pb.Hygiene, pb.Costs = hygiene(), p.Costs.prices(w.business)
	for i := range w.days() {
		light := w.daylight(w.from.AddDays(i))
		pb.Daylight = append(pb.Daylight, round.Span{From: int32(light.From * minute), To: int32(light.To * minute)})
	}
	for _, rig := range w.rigs {
		pb.Rigs = append(pb.Rigs, w.poseRig(rig))
		pb.crews[rig.ID] = w.crewsOf(rig)
	}
	for _, v := range w.visits {
		if !may(v) || w.elsewhere[v.BookingID] {
			pb.stays[v.BookingID] = true
		}
	}
	for _, v := range w.visits {
		pb.hold(v)
	}
	for _, b := range w.open {
		pb.poseBooking(p, b)
	}
	return pb
}

// movable are the visits that a week's plan may move, and mendable those that
// may be moved when something goes wrong, for the price of the promise.
func movable(v booking.Visit) bool { return v.State == booking.Pencilled }

func mendable(v booking.Visit) bool { return v.State == booking.Pencilled || v.State == booking.Fixed }

func (w *world) poseRig(rig booking.Rig) round.Rig {
	r := round.Rig{
		ID: string(rig.ID), Home: homeID, Has: has(rig),
		Size: round.Size{Width: cm(rig.Width), Length: cm(rig.Length), Height: cm(rig.Height), Mass: int32(rig.Mass)},
	}
	own := w.drives(rig.ID)
	r.Towing, r.Solo = own.towing, own.solo
	for i := range w.days() {
		r.Days = append(r.Days, w.poseDay(rig, w.from.AddDays(i)))
	}
	if v, ok := w.before[rig.ID]; ok {
		r.Visited = []round.Visited{{DaysAgo: max(1, w.from.DaysSince(v.Day)), Class: int(w.farms[v.FarmID].Hygiene)}}
		if goes := slices.ContainsFunc(r.Days, func(d round.RigDay) bool { return d.Closed == "" }); v.Overnight && goes {
			r.Standing = &round.Standing{Place: string(v.YardID), SetUp: true, Pack: int32(v.PackDown.Seconds()), Class: int(w.farms[v.FarmID].Hygiene), Lodged: v.Lodged}
		}
	}
	w.neededHome(&r)
	return r
}

// neededHome marks the days for which the rig has to be home the night before:
// where it stands out at first, those after the first on which it can be
// brought home.
func (w *world) neededHome(r *round.Rig) {
	home := r.Standing == nil
	for i := range r.Days {
		off := w.off[rigDate{booking.ID(r.ID), w.from.AddDays(i)}]
		r.Days[i].AtHome = home && off.Needed
		home = home || comesHome(r, &r.Days[i])
	}
}

// toWash is room for a wash-down before a rig is towed home, in seconds.
const toWash = 60 * minute

// comesHome tells whether there is time on a day to bring home a rig that
// stands out.
func comesHome(r *round.Rig, d *round.RigDay) bool {
	if d.Closed != "" {
		return false
	}
	at := r.Standing.Place
	return d.Start+leg(r.Solo, homeID, at).Seconds+r.Standing.Pack+toWash+leg(r.Towing, at, homeID).Seconds <= d.Latest
}

func (w *world) poseDay(rig booking.Rig, day civil.Date) round.RigDay {
	d := round.RigDay{Start: int32(rig.DayStart * minute), End: int32(rig.DayEnd * minute), Skills: w.skillsOn(rig, day), MayLodge: rig.Lodges}
	d.Crew, _ = w.crewOn(rig, day)
	d.Latest = min(d.End+overtime, round.Day)
	d.Start = max(d.Start, int32(w.off[rigDate{rig.ID, day}].From*minute))
	switch today := w.today(); {
	case w.offReason(rig, day) != "":
		d.Closed = w.offReason(rig, day)
	case day.Before(today):
		d.Closed = "the day is over"
	case day == today && w.out(rig, day):
		d.Start = 0 // what has begun has begun; what is asked for may not begin before now
	case day == today:
		d.Start = max(d.Start, w.leaves(rig, day))
	case len(rig.Crew) == 0:
		d.Closed = "nobody goes with it"
	}
	if d.Closed == "" && d.Start >= d.End {
		d.Closed = "the day is nearly over"
	}
	return d
}

// leaves is when a rig that is at home can leave today, in seconds: on notice,
// or as it is on the board already.
func (w *world) leaves(rig booking.Rig, day civil.Date) int32 {
	start := w.minute(day, w.now) + noticeMinutes
	for _, v := range w.visits {
		if v.RigID == rig.ID && v.Day == day {
			drive := minutesOf(leg(w.drives(rig.ID).towing, homeID, string(v.YardID)))
			return int32(min(start, w.minute(day, v.Arrive)-drive-rounding) * minute)
		}
	}
	return int32(start * minute)
}

// out tells whether a rig has begun a visit on a day.
func (w *world) out(rig booking.Rig, day civil.Date) bool {
	return slices.ContainsFunc(w.visits, func(v booking.Visit) bool { return v.RigID == rig.ID && v.Day == day && begun(v) })
}

func begun(v booking.Visit) bool {
	return v.State == booking.UnderWay || v.State == booking.SignedOff
}

func cm(metres float64) int32 { return int32(math.Round(metres * 100)) }

// hold keeps a visit of a booking that stays where it is.
func (pb *problem) hold(stored booking.Visit) {
	if !pb.stays[stored.BookingID] {
		return
	}
	v, today := pb.real(stored), pb.today()
	id := "visit " + string(v.ID)
	pb.held[id] = v
	if v.Day.Before(today) || begun(v) && (v.Day != today || !pb.latestBegun(stored)) {
		return
	}
	late := int32((v.WorkLong - v.Work).Seconds())
	v.PackDown += max(stored.Leave().Sub(v.Leave()), 0) // done sooner; its time on the board is not free for that
	visit := pb.frame(id, pb.bookings[v.BookingID])
	visit.Times = pb.anyCrew(v.RigID, round.Times{
		SetUp: int32(v.SetUp.Seconds()), Work: int32(v.Work.Seconds()), Pack: int32(v.PackDown.Seconds()), Late80: late * 2 / 3, Late90: late,
	})
	visit.Needs, visit.Windows, visit.MinChunk, visit.Limits = nil, nil, 0, round.Size{}
	if begun(v) {
		visit.Lit, visit.Class = true, pb.dirtiest(stored)
	}
	visit.Pin = &round.Pin{Rig: string(v.RigID), Day: v.Day.DaysSince(pb.from), Start: pb.second(v.Day, v.Working())}
	visit.Value = round.MaxPrice
	pb.Visits = append(pb.Visits, visit)
}

// poseBooking asks the planner for a place, unless the booking stays where it
// is, is placed outside the span or cannot be asked for.
func (pb *problem) poseBooking(p *Planner, b booking.Booking) {
	if pb.settled(b) {
		return
	}
	id := string(b.ID)
	v := pb.frame(id, b)
	if reason := pb.windows(&v, b); reason != "" {
		pb.stuck[b.ID] = reason
		return
	}
	if reason := pb.times(&v, b); reason != "" {
		pb.stuck[b.ID] = reason
		return
	}
	v.Value = p.Costs.value(b.Priority, !b.Latest().After(pb.to))
	pb.keepPromise(&v, b)
	pb.ask[id] = b
	pb.Visits = append(pb.Visits, v)
}

// settled tells whether the booking's day is not this plan's to choose.
func (pb *problem) settled(b booking.Booking) bool { return pb.elsewhere[b.ID] || pb.stays[b.ID] }

// frame is what a visit takes from its yard and farm.
func (pb *problem) frame(id string, b booking.Booking) round.Visit {
	yard, farm := pb.yards[b.YardID], pb.farms[b.FarmID]
	v := round.Visit{
		ID: id, Place: string(b.YardID), Needs: needsOf(b.Mobs, pb.services), Class: int(farm.Hygiene),
		Limits:  round.Size{Width: cm(yard.GateWidth), Length: cm(yard.TrainLength)},
		MayStay: yard.Overnight, Lit: yard.Lights,
	}
	if yard.Overnight {
		v.MinChunk = leastPart
	}
	return v
}

// windows turns the farmer's days, and the animals' calendar, into windows of
// the plan; a reason where none is left in its days.
func (pb *problem) windows(v *round.Visit, b booking.Booking) string {
	days, reason := pb.allowed(b)
	if reason != "" {
		return reason
	}
	for _, w := range days {
		from, to := w.From.DaysSince(pb.from), w.To.DaysSince(pb.from)
		if to < 0 || from >= pb.world.days() {
			continue
		}
		span := partOfDay(w.Part)
		pb.addWindow(v, round.Window{FromDay: max(from, 0), ToDay: min(to, pb.world.days()-1), From: span.From, To: span.To})
	}
	if len(v.Windows) == 0 {
		return pb.outside(days)
	}
	return ""
}

// addWindow adds a window, of which today only what is still to come.
func (pb *problem) addWindow(v *round.Visit, w round.Window) {
	today := pb.today().DaysSince(pb.from)
	if w.FromDay <= today && today <= w.ToDay {
		rest := w
		rest.FromDay, rest.ToDay = today, today
		rest.From = max(rest.From, int32((pb.minute(pb.today(), pb.now)+noticeMinutes)*minute))
		if rest.From <= rest.To {
			v.Windows = append(v.Windows, rest)
		}
		w.FromDay = today + 1
	}
	if w.FromDay <= w.ToDay {
		v.Windows = append(v.Windows, w)
	}
}

// partOfDay is when work may begin, in seconds of the day.
func partOfDay(part booking.DayPart) round.Span {
	switch part {
	case booking.Morning:
		return round.Span{From: 0, To: 12 * 60 * minute}
	case booking.Afternoon:
		return round.Span{From: 12 * 60 * minute, To: round.Day}
	}
	return round.Span{From: 0, To: round.Day}
}

// crew names those who go with a rig on a day; the usual crew on days that are
// not planned.
func (pb *problem) crew(rig string, day int) string {
	i := slices.IndexFunc(pb.Rigs, func(r round.Rig) bool { return r.ID == rig })
	if i < 0 || day < 0 || day >= pb.Days {
		return rig
	}
	return pb.Rigs[i].Days[day].Crew
}

// anyCrew are times that hold for a rig whoever goes with it.
func (pb *problem) anyCrew(rig booking.ID, t round.Times) map[string]round.Times {
	all := map[string]round.Times{string(rig): t}
	for crew := range pb.crews[rig] {
		all[crew] = t
	}
	return all
}

// times estimates the visit with each rig that could come; a reason where
// none can.
func (pb *problem) times(v *round.Visit, b booking.Booking) string {
	v.Times = map[string]round.Times{}
	pb.estimates[v.ID] = map[string]pace.Estimate{}
	yard := pb.yards[b.YardID]
	reason := "No rig is in use."
	for _, rig := range pb.rigs {
		if rig.Mount == booking.OnSkid && !yard.Forks {
			reason = rig.Name + " is on a skid frame and the yard has no forks to lift it."
			continue
		}
		if err := pb.timesWith(v, b, rig); err != nil {
			reason = rig.Name + " cannot come: " + sentence(err)
		}
	}
	if len(v.Times) == 0 {
		return reason
	}
	return ""
}

// timesWith estimates the visit for everybody who may go with a rig. The error
// is that of the usual crew; fewer may not be able to do it at all.
func (pb *problem) timesWith(v *round.Visit, b booking.Booking, rig booking.Rig) (usual error) {
	for crew, people := range pb.crews[rig.ID] {
		estimate, err := pb.pace.Estimate(Job(b.Mobs, pb.yards[b.YardID], pb.farms[b.FarmID].Hygiene, rig, people))
		switch {
		case err == nil:
			v.Times[crew] = timesOf(estimate)
			pb.estimates[v.ID][crew] = estimate
		case crew == string(rig.ID):
			usual = err
		}
	}
	return usual
}

// keepPromise makes moving a day that the farmer knows cost what a broken word
// costs.
func (pb *problem) keepPromise(v *round.Visit, b booking.Booking) {
	for _, old := range pb.world.visits {
		if old.BookingID == b.ID && old.Part == 1 && (b.State == booking.Offered || old.State == booking.Fixed) {
			v.Promise = &round.Promise{Rig: string(old.RigID), Day: old.Day.DaysSince(pb.from), Start: pb.second(old.Day, old.Working())}
		}
	}
}
