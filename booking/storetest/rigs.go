package storetest

import (
	"math/rand/v2"
	"sync"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
)

var rigChecks = []check{
	{"visits may touch but not overlap", visitsMayTouch},
	{"touching visits of odd seconds read back without overlap", visitsTouchToTheSecond},
	{"a rig is held until it leaves, overnight until the work is done", visitsHoldTheirRig},
	{"called-off visits hold no time", calledOffHoldsNothing},
	{"two rigs do not hinder each other", rigsAreApart},
	{"a visit takes some time", visitsTakeTime},
	{"the store agrees with a simple model", agreesWithModel},
	{"sixteen writers never book a rig twice", neverBooksTwice},
}

// noOverlap reads every visit back and compares each with each.
func (s *suite) noOverlap() {
	s.Helper()
	all := s.visits()
	for i, a := range all {
		for _, b := range all[:i] {
			if a.RigID == b.RigID && overlap(a, b) {
				s.Errorf("%s from %s and %s from %s hold one rig", a.ID, a.Arrive, b.ID, b.Arrive)
			}
		}
	}
}

func overlap(a, b booking.Visit) bool {
	return a.State.Live() && b.State.Live() && a.Arrive.Before(b.Leave()) && b.Arrive.Before(a.Leave())
}

func visitsMayTouch(s *suite) {
	b, rig := s.booked(), s.rig()
	v := s.placed(b, rig, sample.Morning)
	hold := v.Leave().Sub(v.Arrive)
	s.placed(b, rig, v.Leave())
	s.placed(b, rig, sample.Morning.Add(-hold))
	for _, off := range []time.Duration{0, time.Millisecond, -time.Millisecond, time.Hour, hold - time.Millisecond, 2*hold - time.Millisecond, -time.Hour} {
		w := sample.Visit(b, rig, sample.Morning.Add(off))
		s.wants(fault.Conflict, s.plan(&w))
	}
	long := sample.Visit(b, rig, sample.Morning.Add(-24*time.Hour)) // spans all three
	long.Work = 72 * time.Hour
	s.wants(fault.Conflict, s.plan(&long))
	short := sample.Visit(b, rig, sample.Morning.Add(time.Hour)) // within one
	short.SetUp, short.Work, short.PackDown, short.WashDown = 0, time.Second, 0, 0
	s.wants(fault.Conflict, s.plan(&short))
	s.same("visits", len(s.visits()), 3)
}

// Durations are kept in seconds; the time that is held has to follow what is
// kept, or two visits that fit as they went in overlap as they come out.
func visitsTouchToTheSecond(s *suite) {
	b, rig := s.booked(), s.rig()
	first := sample.Visit(b, rig, sample.Morning)
	first.Work += 600 * time.Millisecond
	next := sample.Visit(b, rig, first.Leave())
	s.must(s.plan(&first))
	if err := s.plan(&next); err != nil && !fault.Is(err, fault.Conflict) {
		s.Fatal(err)
	}
	s.noOverlap()
}

func visitsHoldTheirRig(s *suite) {
	b, rig := s.booked(), s.rig()
	v := sample.Visit(b, rig, sample.Morning)
	v.Overnight = true // packed and washed in the morning, by the next visit there
	s.must(s.plan(&v))
	early := sample.Visit(b, rig, v.Leave().Add(-time.Minute))
	s.wants(fault.Conflict, s.plan(&early))
	s.placed(b, rig, v.Leave())
	s.noOverlap()
}

func calledOffHoldsNothing(s *suite) {
	b, rig := s.booked(), s.rig()
	off := s.placed(b, rig, sample.Morning)
	off.State = booking.CalledOff
	s.must(s.plan(&off))
	next := s.placed(b, rig, sample.Morning.Add(time.Minute))
	off.State = booking.Pencilled // no way back while its time is taken
	s.wants(fault.Conflict, s.plan(&off))
	next.State = booking.CalledOff
	s.must(s.plan(&next))
	s.must(s.plan(&off))
	s.same("visit", found[booking.Visit](s)(s.Visit(s.ctx, off.ID)), off)
	for _, state := range []booking.VisitState{booking.Fixed, booking.UnderWay, booking.SignedOff} {
		off.State = state
		s.must(s.plan(&off))
		w := sample.Visit(b, rig, sample.Morning)
		s.wants(fault.Conflict, s.plan(&w)) // every other state holds the rig
	}
}

func rigsAreApart(s *suite) {
	b, one, two := s.booked(), s.rig(), s.rig()
	s.placed(b, one, sample.Morning)
	v := s.placed(b, two, sample.Morning)
	v.RigID = one.ID
	s.wants(fault.Conflict, s.plan(&v))
}

func visitsTakeTime(s *suite) {
	v := sample.Visit(s.booked(), s.rig(), sample.Morning)
	v.SetUp, v.Work, v.PackDown, v.WashDown = 0, 0, 0, 0
	s.wants(fault.Invalid, s.plan(&v))
	v = sample.Visit(s.booked(), s.rig(), sample.Morning)
	v.State = "somewhere"
	s.wants(fault.Invalid, s.plan(&v))
}

// randomVisit is somewhere in two days, for up to three hours.
func randomVisit(random *rand.Rand, b booking.Booking, rigs []booking.Rig) booking.Visit {
	v := sample.Visit(b, rigs[random.IntN(len(rigs))], sample.Morning.Add(time.Duration(random.IntN(48*60))*time.Minute))
	v.SetUp, v.PackDown, v.WashDown = 0, 0, 0
	v.Work = time.Duration(1+random.IntN(180)) * time.Minute
	return v
}

// agreesWithModel adds, moves, calls off and revives visits at random; the
// store has to say yes exactly where comparing each with each does.
func agreesWithModel(s *suite) {
	random := rand.New(rand.NewPCG(1, 2))
	b, rigs := s.booked(), []booking.Rig{s.rig(), s.rig()}
	var model []booking.Visit
	for range 200 {
		v, at := randomVisit(random, b, rigs), len(model)
		if at > 0 && random.IntN(2) == 0 {
			at = random.IntN(at)
			v.ID, v.Version = model[at].ID, model[at].Version
			v.State = []booking.VisitState{booking.Pencilled, booking.Fixed, booking.CalledOff}[random.IntN(3)]
		}
		free := true
		for i, other := range model {
			free = free && (i == at || other.RigID != v.RigID || !overlap(v, other))
		}
		switch err := s.plan(&v); {
		case err == nil && free && at == len(model):
			model = append(model, v)
		case err == nil && free:
			model[at] = v
		case err == nil:
			s.Fatalf("booked twice: %+v", v)
		case free || !fault.Is(err, fault.Conflict):
			s.Fatalf("refused a free time: %v", err)
		}
	}
	kept := map[booking.ID]booking.Visit{}
	for _, v := range s.visits() {
		kept[v.ID] = v
	}
	s.same("number of visits", len(kept), len(model))
	for _, v := range model {
		s.same("visit", kept[v.ID], v)
	}
}

// neverBooksTwice lets sixteen writers add, move and call off visits of two
// rigs at the same time.
func neverBooksTwice(s *suite) {
	const writers, tries = 16, 40
	b, rigs := s.booked(), []booking.Rig{s.rig(), s.rig()}
	var all sync.WaitGroup
	for writer := range writers {
		all.Go(func() {
			random := rand.New(rand.NewPCG(uint64(writer), 3))
			var mine []booking.Visit
			for range tries {
				v := randomVisit(random, b, rigs)
				if len(mine) > 0 && random.IntN(3) == 0 {
					last := mine[len(mine)-1]
					v.ID, v.Version = last.ID, last.Version
					v.State = []booking.VisitState{booking.Fixed, booking.CalledOff}[random.IntN(2)]
				}
				if err := s.plan(&v); err == nil {
					mine = append(mine, v)
				} else if !fault.Is(err, fault.Conflict) {
					s.Error(err)
				}
			}
		})
	}
	all.Wait()
	s.noOverlap()
	if n := len(s.visits()); n < 10 {
		s.Errorf("only %d visits were placed: the check shows nothing", n)
	}
}
