package schedule

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/say"
	"drawbar/routing/round"

	"cloud.google.com/go/civil"
)

// Proposal is a plan for some days, not yet applied.
type Proposal struct {
	From, To    civil.Date
	Zone        *time.Location
	Moves       []Move    // what would change, in order of the new times
	Same        int       // visits that stay as they are
	LeftOut     []Waiting // bookings that would have no day, with the reason
	Before      Totals
	After       Totals
	Fingerprint string // the same for the same proposal
	change      booking.PlanChange
}

// Move is one visit that would be placed, moved or taken out.
type Move struct {
	Booking booking.Booking
	Farm    booking.Farm
	Yard    booking.Yard
	Old     *booking.Visit // nil for a new visit
	New     *booking.Visit // nil for one taken out
	OldRig  string
	NewRig  string
}

// Search bounds how long a plan is looked for. The same bounds, data and day
// give the same plan.
type Search struct {
	Seed       uint64
	Iterations int // 0 = the planner's default
	Progress   func(round.Progress)
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
	pb := p.pose(w)
	plan, err := pb.solve(ctx, s)
	if err != nil {
		return nil, fault.Wrap(fault.Internal, err, "planning failed")
	}
	return pb.proposal(plan), nil
}

// solve plans around the held visits. One that breaks a rule where it is, by
// somebody's decision, keeps its rig's whole day.
func (pb *problem) solve(ctx context.Context, s Search) (round.Plan, error) {
	for {
		plan, err := round.Solve(ctx, pb.Problem, round.Options{Seed: s.Seed, Iterations: s.Iterations, Progress: s.Progress})
		if err != nil || !pb.giveWay(plan) {
			return plan, err
		}
	}
}

// giveWay closes the days of held visits that the plan has no place for; it
// tells whether there were any.
func (pb *problem) giveWay(plan round.Plan) bool {
	found := false
	for _, l := range plan.LeftOut {
		v, held := pb.held[l.Visit]
		if !held {
			continue
		}
		found = true
		pb.Visits = slices.DeleteFunc(pb.Visits, func(o round.Visit) bool { return o.ID == l.Visit })
		for i := range pb.Rigs {
			if pb.Rigs[i].ID == string(v.RigID) {
				pb.Rigs[i].Days[v.Day.DaysSince(pb.from)].Closed = "a fixed visit has the day"
			}
		}
	}
	return found
}

// Apply stores a proposal that still has the fingerprint the reader saw.
func (p *Planner) Apply(ctx context.Context, proposal *Proposal, fingerprint string) error {
	if proposal.Fingerprint != fingerprint {
		return fault.New(fault.Conflict, "Something changed since this plan was shown, and the plan is a different one now. Here is the new one; nothing was moved yet.")
	}
	if len(proposal.Moves) == 0 {
		return nil
	}
	return p.Store.ApplyPlan(ctx, proposal.change)
}

// proposal reads a plan back into visits and compares them with those on file.
func (pb *problem) proposal(plan round.Plan) *Proposal {
	prop := &Proposal{From: pb.from, To: pb.to, Zone: pb.zone, Before: totals(pb.laidOut(pb.world.visits))}
	planned := pb.visitsOf(plan)
	after := pb.unmoved()
	for _, b := range pb.planOrder() {
		moves, same := pb.compare(b, planned[b.ID])
		prop.Same += same
		prop.Moves = append(prop.Moves, moves...)
		after = append(after, planned[b.ID]...)
	}
	slices.SortStableFunc(prop.Moves, byTime)
	prop.LeftOut = pb.leftOut(plan)
	prop.After = totals(pb.laidOut(after))
	prop.change = pb.change(prop)
	prop.Fingerprint = fingerprint(prop.Moves)
	return prop
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

// unmoved are the visits no plan moves.
func (pb *problem) unmoved() []booking.Visit {
	var kept []booking.Visit
	for _, v := range pb.world.visits {
		if !v.State.Movable() || pb.settled(pb.bookings[v.BookingID]) {
			kept = append(kept, v)
		}
	}
	return kept
}

// laidOut is the span with other visits in it.
func (pb *problem) laidOut(visits []booking.Visit) []Day {
	other := *pb.world
	other.visits = slices.Clone(visits)
	slices.SortFunc(other.visits, func(a, b booking.Visit) int { return a.Arrive.Compare(b.Arrive) })
	week := &Week{}
	other.fillDays(week)
	return week.Days
}

// compare finds what a plan changes for one booking.
func (pb *problem) compare(b booking.Booking, planned []booking.Visit) (moves []Move, same int) {
	var old []booking.Visit
	for _, v := range pb.world.visits {
		if v.BookingID == b.ID {
			old = append(old, v)
		}
	}
	for i := range max(len(old), len(planned)) {
		m := Move{Booking: b, Farm: pb.farms[b.FarmID], Yard: pb.yards[b.YardID]}
		if i < len(old) {
			m.Old, m.OldRig = &old[i], pb.rigName(old[i].RigID)
		}
		if i < len(planned) {
			if m.Old != nil {
				planned[i].ID, planned[i].Version = m.Old.ID, m.Old.Version
			}
			m.New, m.NewRig = &planned[i], pb.rigName(planned[i].RigID)
		}
		if m.Old != nil && m.New != nil && *m.Old == *m.New {
			same++
			continue
		}
		moves = append(moves, m)
	}
	return moves, same
}

func (w *world) rigName(id booking.ID) string {
	for _, r := range w.rigs {
		if r.ID == id {
			return r.Name
		}
	}
	return ""
}

func byTime(a, b Move) int { return a.when().Compare(b.when()) }

func (m Move) when() time.Time {
	if m.New != nil {
		return m.New.Arrive
	}
	return m.Old.Arrive
}

// change is what applying the proposal stores.
func (pb *problem) change(prop *Proposal) booking.PlanChange {
	c := booking.PlanChange{RestsOn: map[booking.ID]int{}, Verb: "planned", Detail: prop.inWords()}
	touched := map[booking.ID]bool{}
	for _, m := range prop.Moves {
		if m.New != nil {
			c.Save = append(c.Save, m.New)
		} else {
			c.Drop = append(c.Drop, *m.Old)
		}
		c.RestsOn[m.Yard.ID] = m.Yard.Version
		if touched[m.Booking.ID] {
			continue
		}
		touched[m.Booking.ID] = true
		if b := m.Booking; b.State == booking.Offered {
			b.State, b.Attention = booking.Asked, "The day that was offered has moved; offer the new one."
			c.Bookings = append(c.Bookings, &b)
		} else {
			c.RestsOn[b.ID] = b.Version
		}
	}
	return c
}

func (prop *Proposal) inWords() string {
	placed, moved, out := prop.Counts()
	return fmt.Sprintf("%s to %s: %d placed, %d moved, %d taken out, %d without a day", say.Day(prop.From), say.Day(prop.To), placed, moved, out, len(prop.LeftOut))
}

// Counts of the moves by what happens to the visit.
func (prop *Proposal) Counts() (placed, moved, out int) {
	for _, m := range prop.Moves {
		switch {
		case m.Old == nil:
			placed++
		case m.New == nil:
			out++
		default:
			moved++
		}
	}
	return placed, moved, out
}

// fingerprint is a short name for exactly these moves on these versions.
func fingerprint(moves []Move) string {
	var text strings.Builder
	for _, m := range moves {
		fmt.Fprintf(&text, "%s %d", m.Booking.ID, m.Booking.Version)
		if m.Old != nil {
			fmt.Fprintf(&text, " %s %d", m.Old.ID, m.Old.Version)
		}
		if m.New != nil {
			fmt.Fprintf(&text, " %s %d %d %d", m.New.RigID, m.New.Arrive.Unix(), m.New.Leave().Unix(), m.New.Part)
		}
		text.WriteByte('\n')
	}
	sum := sha256.Sum256([]byte(text.String()))
	return hex.EncodeToString(sum[:12])
}
