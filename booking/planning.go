package booking

import (
	"context"
	"time"

	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Planning is a search for a plan of some days: asked for by somebody, worked
// by whichever process is free, and kept with what it found.
type Planning struct {
	ID          ID
	State       PlanningState
	From        civil.Date
	Days        int
	Mend        bool // the smallest change that works, not the best week
	Seed        int64
	Seconds     int // how long to look; 0 = until Iterations are done
	Iterations  int // how much to look at most; 0 = no limit but Seconds
	Asked       time.Time
	By          Actor
	Progress    Progress
	Beat        time.Time // last sign of life of whoever searches
	Tries       int       // how often somebody began to search
	Stop        bool      // somebody wants the best so far
	Fingerprint string    // of what the plan rests on
	Result      []byte    // the plan, JSON; empty until found
	Trouble     string    // why it failed, for the reader
	Ended       time.Time
}

// PlanningState is where a planning has got to.
type PlanningState string

// The states of a planning.
const (
	PlanWaiting   PlanningState = "waiting"   // nobody has begun yet
	PlanSearching PlanningState = "searching" // a process is at it
	PlanFound     PlanningState = "found"     // there is a plan to look at
	PlanFailed    PlanningState = "failed"    // there is none; Trouble says why
)

// Open tells whether a planning is still to be done.
func (s PlanningState) Open() bool { return s == PlanWaiting || s == PlanSearching }

// Progress is how far a search has got.
type Progress struct {
	Iteration int
	Placed    int // visits
	Of        int
	Cost      int64 // of the best plan so far, minor units
}

// Limits of a planning.
const (
	MaxPlanDays       = 60
	MaxPlanSeconds    = 600
	MaxPlanIterations = 50_000_000
)

// Check says what is wrong with the entries, field by field.
func (p Planning) Check() error {
	f := fault.Fields{}
	if !p.From.IsValid() {
		f.Add("from", "Give the first day to plan, such as 2027-03-08.")
	}
	f.Range("days", float64(p.Days), 1, MaxPlanDays, "days")
	f.Range("seconds", float64(p.Seconds), 0, MaxPlanSeconds, "seconds to look for")
	f.Range("iterations", float64(p.Iterations), 0, MaxPlanIterations, "tries")
	return f.Err()
}

// PlanningQuery picks plannings, newest first. Zero fields do not restrict.
type PlanningQuery struct {
	From, To civil.Date // whose days overlap these, both included
	States   []PlanningState
	Limit    int // 0 means 30
}

// Acceptance is a plan, or a part of one, that was put into effect, with what
// it takes to undo it.
type Acceptance struct {
	ID       ID
	Planning ID
	At       time.Time
	Who      Actor
	Says     string    // what was done, in words
	Units    []ID      // the bookings of the plan that it accepted
	Before   []Visit   // as they were; new ones are not among them
	After    []Visit   // as they were left
	Was      []Booking // as they were, where a booking changed as well
	Left     []Booking // as they were left
	Undone   time.Time // zero while it holds
}

// Plannings keeps plannings and what was accepted of them.
type Plannings interface {
	// AddPlanning stores a new planning and sees that somebody works on it.
	AddPlanning(ctx context.Context, p *Planning) error
	Planning(ctx context.Context, id ID) (Planning, error)
	Plannings(ctx context.Context, q PlanningQuery) ([]Planning, error)
	// ClaimPlanning takes a waiting planning to search for it; ok is false
	// when somebody else has it or it is done.
	ClaimPlanning(ctx context.Context, id ID) (p Planning, ok bool, err error)
	// NotePlanning is the sign of life of whoever searches. It tells whether
	// to stop with the best so far; mine is false when the planning was taken
	// from the searcher meanwhile.
	NotePlanning(ctx context.Context, id ID, try int, at Progress) (stop, mine bool, err error)
	// EndPlanning keeps what was found, or why nothing was. Only the searcher
	// that has it may; for another it does nothing.
	EndPlanning(ctx context.Context, p Planning) error
	// StopPlanning asks for the best so far; a planning that nobody has begun
	// fails at once.
	StopPlanning(ctx context.Context, id ID) error
	// RetakePlannings puts those without a sign of life since the moment back
	// to waiting, and gives up on those that were tried too often.
	RetakePlannings(ctx context.Context, since time.Time) error
	// Acceptances of a planning, or of all for "", newest first; at most 100.
	Acceptances(ctx context.Context, planning ID) ([]Acceptance, error)
}

// MostTries is how often a planning is begun before it is given up.
const MostTries = 3
