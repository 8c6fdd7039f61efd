package schedule

import (
	"context"
	"slices"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// Proposal is a plan for some days, not yet in effect. It can be kept as JSON
// and read back.
type Proposal struct {
	From, To civil.Date
	Mend     bool   // the smallest change that works
	Moves    []Move // what would change, in order of the new times
	Same     int    // visits that stay as they are
	LeftOut  []Out  // bookings that would have no day, with the reason
	Broken   []string
	Before   Figures // the days as they are, from now on
	After    Figures // the days as planned
	Ground   Ground  // what all this rests on
	Search   round.Search
}

// Move is what a plan changes for one booking.
type Move struct {
	Booking booking.ID
	Number  int
	Farm    string
	Contact string
	Phone   string
	Animals string
	Old     []booking.Visit // none for a booking that has no day yet
	New     []booking.Visit // none for one that is taken out
	Was     []string        // the old visits in words
	Now     []string        // the new ones
	Reason  string
	Adds    int64 // to the cost of the rounds, minor units; below nothing for a saving
	Told    bool  // the farmer was promised or offered something else
}

// Out is a booking without a day.
type Out struct {
	Booking booking.ID
	Number  int
	Farm    string
	Animals string
	Reason  string
}

// Search bounds how long a plan is looked for. The same seed and iterations,
// data and day give the same plan.
type Search struct {
	Mend       bool
	Seed       int64
	Iterations int           // 0 = as many as the time allows
	Time       time.Duration // 0 = no limit
	Progress   func(round.Progress)
	Stop       <-chan struct{} // closed: the best so far will do
}

// Propose plans the days from, from+1, … and says what would change.
func (p *Planner) Propose(ctx context.Context, from civil.Date, days int, s Search) (*Proposal, error) {
	w, err := p.load(ctx, from, from.AddDays(days-1))
	if err != nil {
		return nil, err
	}
	if w.to.Before(w.today()) {
		return nil, fault.New(fault.Invalid, "These days are over; choose a week from this one on.")
	}
	may := movable
	if s.Mend {
		may = mendable
	}
	pb := p.pose(w, may)
	if s.Mend {
		pb.keepStill(p.Costs)
	}
	plan, err := pb.solve(ctx, s)
	if err != nil {
		return nil, fault.Wrap(fault.Internal, err, "planning failed")
	}
	if err := pb.judged(plan); err != nil {
		return nil, err
	}
	prop := pb.proposal(plan)
	prop.Mend = s.Mend
	return prop, nil
}

// solve plans around the held visits. One that breaks a rule where it is, by
// somebody's decision, keeps its rig's whole day.
func (pb *problem) solve(ctx context.Context, s Search) (round.Plan, error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() {
		select {
		case <-s.Stop:
			cancel()
		case <-ctx.Done():
		}
	}()
	if err := pb.makeWay(ctx); err != nil {
		return round.Plan{}, err
	}
	return pb.kept(func() (round.Plan, error) {
		options := pb.options(s)
		if s.Mend {
			now := pb.planOf(pb.byBooking(pb.world.visits))
			options.From = &now
		}
		return round.Solve(ctx, pb.Problem, options)
	})
}

// kept plans until every held visit has a place or has given way.
func (pb *problem) kept(plan func() (round.Plan, error)) (round.Plan, error) {
	for {
		found, err := plan()
		if err != nil || !pb.giveWay(found) {
			return found, err
		}
	}
}

// heldTries are enough to see which held visits can be kept at all.
const heldTries = 500

// makeWay has the held visits give way that cannot be kept even alone, before
// any time is spent on the others.
func (pb *problem) makeWay(ctx context.Context) error {
	_, err := pb.kept(func() (round.Plan, error) {
		alone := pb.Problem
		alone.Visits = slices.DeleteFunc(slices.Clone(pb.Visits), func(v round.Visit) bool {
			_, held := pb.held[v.ID]
			return !held
		})
		return round.Solve(ctx, alone, round.Options{Iterations: heldTries})
	})
	return err
}

// perVisit is how many tries are enough, by the square of the visits that
// have to find a place: a small week is done long before its time is up.
const perVisit = 4000

func (pb *problem) options(s Search) round.Options {
	o := round.Options{Seed: uint64(s.Seed), Iterations: s.Iterations, Progress: s.Progress}
	n := len(pb.ask)
	if s.Iterations == 0 {
		o.Iterations = min(perVisit*(n+2)*(n+2), booking.MaxPlanIterations)
	}
	if s.Time > 0 {
		o.Deadline = time.Now().Add(s.Time)
	}
	return o
}

// judged has the referee look at a plan.
func (pb *problem) judged(plan round.Plan) error {
	if wrong := round.Validate(pb.Problem, plan); len(wrong) > 0 {
		return fault.Wrap(fault.Internal, refused(wrong), "the planner broke a rule")
	}
	return nil
}

// refused is what the referee says.
type refused []round.Violation

func (r refused) Error() string {
	text := ""
	for _, v := range r {
		text += v.String() + "\n"
	}
	return text
}

// giveWay closes the days of held visits that the plan has no place for; it
// tells whether there were any.
func (pb *problem) giveWay(plan round.Plan) bool {
	found := false
	for _, l := range plan.LeftOut {
		if v, held := pb.held[l.Visit]; held {
			found = true
			pb.close(l.Visit, v)
		}
	}
	return found
}

// close takes a visit out of the problem and its rig's day with it.
func (pb *problem) close(id string, v booking.Visit) {
	pb.Visits = slices.DeleteFunc(pb.Visits, func(o round.Visit) bool { return o.ID == id })
	day := v.Day.DaysSince(pb.from)
	for i := range pb.Rigs {
		if pb.Rigs[i].ID == string(v.RigID) && day >= 0 && day < pb.Days {
			pb.Rigs[i].Days[day].Closed = "a visit that was placed by hand has the day"
		}
	}
}

// proposal reads a plan back into visits and compares them with those on file.
func (pb *problem) proposal(plan round.Plan) *Proposal {
	planned := pb.visitsOf(plan)
	prop := &Proposal{From: pb.from, To: pb.to, Ground: pb.ground(), After: pb.figures(plan), Search: plan.Search}
	before := pb.asTheyAre()
	prop.Before, prop.Broken = pb.figures(before.plan), before.misfits
	why := pb.reasons(plan, planned)
	for _, b := range pb.planOrder() {
		old := pb.visitsFor(b.ID)
		if m, changed := pb.compare(b, old, planned[b.ID]); changed {
			m.Reason, m.Adds = why(m)
			prop.Moves = append(prop.Moves, m)
		} else {
			prop.Same += len(old)
		}
	}
	slices.SortStableFunc(prop.Moves, func(a, b Move) int { return a.when().Compare(b.when()) })
	prop.LeftOut = pb.leftOut(plan)
	return prop
}

// asTheyAre are the days as they are, each visit with the time that it would be
// given now; with the times they were placed with where that does not fit.
func (pb *problem) asTheyAre() trial {
	at := pb.byBooking(pb.world.visits)
	timed := map[booking.ID][]booking.Visit{}
	for id, visits := range at {
		timed[id] = pb.timedNow(visits)
	}
	if t := pb.placedAt(timed); len(t.misfits) == 0 {
		return t
	}
	return pb.placedAt(at)
}

// planOrder are the bookings the planner may place, oldest first.
func (pb *problem) planOrder() []booking.Booking {
	var asked []booking.Booking
	for _, b := range pb.open {
		if !pb.settled(b) {
			asked = append(asked, b)
		}
	}
	return asked
}

func (w *world) visitsFor(id booking.ID) []booking.Visit {
	var found []booking.Visit
	for _, v := range w.visits {
		if v.BookingID == id {
			found = append(found, v)
		}
	}
	return found
}

// byBooking are the visits that this plan may move, by booking.
func (pb *problem) byBooking(visits []booking.Visit) map[booking.ID][]booking.Visit {
	all := map[booking.ID][]booking.Visit{}
	for _, v := range visits {
		if !pb.stays[v.BookingID] {
			all[v.BookingID] = append(all[v.BookingID], v)
		}
	}
	return all
}

// Counts of the bookings by what happens to them.
func (prop *Proposal) Counts() (placed, moved, out int) {
	for _, m := range prop.Moves {
		switch m.Kind() {
		case Placed:
			placed++
		case TakenOut:
			out++
		default:
			moved++
		}
	}
	return placed, moved, out
}

// MoveKind is what happens to a booking.
type MoveKind string

// The kinds of move.
const (
	Placed   MoveKind = "placed"
	Shifted  MoveKind = "moved"
	Timed    MoveKind = "same start" // only its length, its end or its night changes
	TakenOut MoveKind = "taken out"
)

// Kind of the move.
func (m Move) Kind() MoveKind {
	switch {
	case len(m.Old) == 0:
		return Placed
	case len(m.New) == 0:
		return TakenOut
	case slices.EqualFunc(m.Old, m.New, sameStart):
		return Timed
	}
	return Shifted
}

// Slightly is by how much a visit may shift, or be shorter than it takes, for
// that to be nothing to speak of.
const Slightly = 5 * time.Minute

// Slight tells whether a move only shifts visits by minutes within their days,
// and nobody was told otherwise.
func (m Move) Slight() bool {
	return !m.Told && slices.EqualFunc(m.Old, m.New, func(old, v booking.Visit) bool {
		return old.RigID == v.RigID && old.Day == v.Day && old.Overnight == v.Overnight && old.Lodged == v.Lodged &&
			v.Arrive.Sub(old.Arrive).Abs() <= Slightly && v.Leave().Sub(old.Leave()).Abs() <= Slightly
	})
}

// AddsOrSaves is the word for what the move does to the cost.
func (m Move) AddsOrSaves() string {
	if m.Adds < 0 {
		return "Saves"
	}
	return "Adds"
}

func (m Move) when() time.Time {
	if len(m.New) > 0 {
		return m.New[0].Arrive
	}
	return m.Old[0].Arrive
}
