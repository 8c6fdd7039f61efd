package storetest

import (
	"context"
	"sync/atomic"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// Open makes a store on an empty database. The store takes the time of its
// record from now, which may be called from several goroutines.
type Open func(t *testing.T, now func() time.Time) booking.Store

// Run holds the stores that open makes to the contract, each check as a
// parallel subtest on a store of its own.
func Run(t *testing.T, open Open) {
	for _, group := range [][]check{keptChecks, versionChecks, recordChecks, linkChecks, bookingChecks, planChecks, planningChecks, rigChecks, peopleChecks, timeChecks} {
		for _, c := range group {
			t.Run(c.name, func(t *testing.T) {
				t.Parallel()
				c.run(newSuite(t, open))
			})
		}
	}
}

// check is one promise.
type check struct {
	name string
	run  func(s *suite)
}

// suite is a store with what a check needs around it.
type suite struct {
	*testing.T
	booking.Store
	ctx   context.Context
	clock *clock
}

func newSuite(t *testing.T, open Open) *suite {
	c := &clock{start: time.Date(2026, time.April, 10, 9, 30, 0, 0, time.UTC)}
	return &suite{T: t, Store: open(t, c.now), ctx: t.Context(), clock: c}
}

// clock goes on by a millisecond each time it is read.
type clock struct {
	start time.Time
	reads atomic.Int64
}

func (c *clock) now() time.Time {
	return c.start.Add(time.Duration(c.reads.Add(1)) * time.Millisecond)
}

// must ends the check on an error.
func (s *suite) must(err error) {
	s.Helper()
	if err != nil {
		s.Fatal(err)
	}
}

// wants ends the check unless the error is of the kind and has a sentence.
func (s *suite) wants(kind fault.Kind, err error) {
	s.Helper()
	if !fault.Is(err, kind) || fault.Sentence(err) == "" {
		s.Fatalf("want %s, got: %v", kind, err)
	}
}

// same fails the check where two values differ; nil and empty are the same.
func (s *suite) same(what string, got, want any) {
	s.Helper()
	if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
		s.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

// found is what a get gave, or the end of the check.
func found[T any](s *suite) func(T, error) T {
	return func(v T, err error) T {
		s.Helper()
		s.must(err)
		return v
	}
}

// farm stores a sample farm with its yard.
func (s *suite) farm() (booking.Farm, booking.Yard) {
	s.Helper()
	farm := sample.Farm()
	s.must(s.SaveFarm(s.ctx, &farm))
	yard := sample.Yard(farm)
	s.must(s.SaveYard(s.ctx, &yard))
	return farm, yard
}

func (s *suite) rig() booking.Rig {
	s.Helper()
	rig := sample.Rig()
	s.must(s.SaveRig(s.ctx, &rig))
	return rig
}

// booked stores a sample booking at a farm of its own.
func (s *suite) booked(mobs ...booking.Mob) booking.Booking {
	s.Helper()
	farm, yard := s.farm()
	return s.bookedAt(farm, yard, mobs...)
}

func (s *suite) bookedAt(farm booking.Farm, yard booking.Yard, mobs ...booking.Mob) booking.Booking {
	s.Helper()
	b := sample.Booking(farm, yard, mobs...)
	s.must(s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b}))
	return b
}

// placed stores a sample visit.
func (s *suite) placed(b booking.Booking, rig booking.Rig, arrive time.Time) booking.Visit {
	s.Helper()
	v := sample.Visit(b, rig, arrive)
	s.must(s.plan(&v))
	return v
}

// plan saves visits as one plan.
func (s *suite) plan(visits ...*booking.Visit) error {
	return s.ApplyPlan(s.ctx, booking.PlanChange{Save: visits, Verb: "placed"})
}

// visits are all there are.
func (s *suite) visits() []booking.Visit {
	s.Helper()
	return found[[]booking.Visit](s)(s.Visits(s.ctx, booking.VisitQuery{}))
}

// idsOf lists ids for comparison.
func idsOf[T any](all []T, id func(T) booking.ID) []booking.ID {
	ids := make([]booking.ID, len(all))
	for i, v := range all {
		ids[i] = id(v)
	}
	return ids
}

func visitID(v booking.Visit) booking.ID     { return v.ID }
func bookingID(b booking.Booking) booking.ID { return b.ID }
