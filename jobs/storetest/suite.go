package storetest

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/jobs"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// Stores are the store under test and the one that keeps the visits.
type Stores struct {
	Booking booking.Store
	Jobs    jobs.Store
}

// Open makes stores on an empty database; the clock may be read by several
// goroutines.
type Open func(t *testing.T, now func() time.Time) Stores

// Run holds the stores that open makes to the contract, each check as a
// parallel subtest on stores of its own.
func Run(t *testing.T, open Open) {
	for _, group := range [][]check{eventChecks, signingChecks, correctionChecks, listChecks, timingChecks} {
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

// suite is a store with one visit to record on.
type suite struct {
	*testing.T
	Stores
	ctx     context.Context
	clock   *clock
	ann     booking.Person
	farm    booking.Farm
	rig     booking.Rig
	booking booking.Booking
	visit   booking.Visit
	made    int
}

// clock goes on by a second each time it is read.
type clock struct{ reads atomic.Int64 }

func (c *clock) now() time.Time {
	return sample.Morning.Add(5*time.Hour + time.Duration(c.reads.Add(1))*time.Second)
}

func newSuite(t *testing.T, open Open) *suite {
	s := &suite{T: t, ctx: t.Context(), clock: &clock{}}
	s.Stores = open(t, s.clock.now)
	s.ann = sample.Person(booking.Operator)
	s.must(s.Booking.SavePerson(s.ctx, &s.ann))
	for _, service := range sample.Services() {
		s.must(s.Booking.SaveService(s.ctx, &service))
	}
	s.rig, s.farm = sample.Rig(), sample.Farm()
	s.must(s.Booking.SaveRig(s.ctx, &s.rig))
	yard := sample.Yard(s.farm)
	s.booking = sample.Booking(s.farm, yard)
	s.booking.State = booking.Agreed
	s.must(s.Booking.AddBooking(s.ctx, booking.NewBooking{Farm: &s.farm, Yard: &yard, Booking: &s.booking}))
	s.visit = s.placed(sample.Morning, booking.Fixed)
	return s
}

// placed stores a visit for the booking.
func (s *suite) placed(arrive time.Time, state booking.VisitState) booking.Visit {
	s.Helper()
	v := sample.Visit(s.booking, s.rig, arrive)
	v.State = state
	s.must(s.Booking.ApplyPlan(s.ctx, booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "placed"}))
	return v
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

// event is one of the visit's, minutes after its arrival.
func (s *suite) event(minute int, kind jobs.Kind, what jobs.Payload) jobs.Event {
	s.made++
	return jobs.Event{
		ID: booking.NewID(), VisitID: s.visit.ID, Device: fmt.Sprintf("phone-%d", s.made%2), Seq: s.made,
		At: s.visit.Arrive.Add(time.Duration(minute) * time.Minute), Kind: kind, What: what,
	}
}

// ewes counts head of the booked mob, drenched and weighed.
func (s *suite) ewes(head int) jobs.Count {
	return jobs.Count{Mob: s.booking.Mobs[0].ID, Services: []string{"drench", "weigh"}, Head: head}
}

// worked are the events of a visit on which all 240 ewes were worked, up to
// the farmer's signature.
func (s *suite) worked() []jobs.Event {
	return []jobs.Event{
		s.event(0, jobs.Arrived, nil),
		s.event(20, jobs.SetUp, nil),
		s.event(21, jobs.Started, nil),
		s.event(60, jobs.Counted, s.ewes(100)),
		s.event(120, jobs.Counted, s.ewes(140)),
		s.event(141, jobs.Finished, nil),
		s.event(145, jobs.SignedFor, jobs.Signature{Name: "Tamsin Whitlock", Drawing: "M1,2 L3,4", Seen: 240}),
	}
}

// send appends events as Ann and gives how many were new.
func (s *suite) send(events ...jobs.Event) (accepted int) {
	s.Helper()
	for _, a := range found[[]jobs.Answer](s)(s.Jobs.Append(s.ctx, s.visit.ID, s.ann.ID, jobs.NewBatch(events...))) {
		if a.Result == jobs.Accepted {
			accepted++
		}
	}
	return accepted
}

// signed records a whole visit and signs it.
func (s *suite) signed() jobs.SignedDocket {
	s.Helper()
	s.send(s.worked()...)
	return found[jobs.SignedDocket](s)(s.Jobs.Sign(s.ctx, s.visit.ID))
}

// states are where the visit and its booking have got to.
func (s *suite) states() [2]string {
	s.Helper()
	v := found[booking.Visit](s)(s.Booking.Visit(s.ctx, s.visit.ID))
	b := found[booking.Booking](s)(s.Booking.Booking(s.ctx, s.booking.ID))
	return [2]string{string(v.State), string(b.State)}
}
