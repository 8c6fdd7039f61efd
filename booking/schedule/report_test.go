package schedule_test

import (
	"context"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"

	"github.com/paulmach/orb"
)

// told are reports that a test makes up.
type told map[booking.ID]schedule.Report

func (r told) Reported(_ context.Context, visit booking.ID) (schedule.Report, error) {
	return r[visit], nil
}

// begunDay is a Monday with four visits close together, so many minutes apart;
// at 11:00 the first is signed off and the second under way.
func begunDay(t *testing.T, apart int) (b *bench, visits []booking.Visit, reports told) {
	b = newBench(t)
	for i := range 4 {
		b.at(b.asked(100, func(f *booking.Farm, y *booking.Yard, k *booking.Booking) {
			f.Phone = "302-555-0100"
			y.At = orb.Point{-75.45, 38.75 + float64(i)/100}
			k.Windows[0].To = sample.Day.AddDays(3)
		}), sample.Day, 8*60+i*apart)
	}
	visits, reports = b.visits(), told{}
	b.now = visits[0].Arrive.Add(3 * time.Hour)
	for i, state := range []booking.VisitState{booking.SignedOff, booking.UnderWay} {
		visits[i].State = state
		b.must(b.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&visits[i]}, Verb: "began"}))
	}
	for _, v := range visits[2:] {
		b.must(b.desk().Fix(t.Context(), v.ID, v.Version))
	}
	b.planner.Reports = reports
	return b, visits, reports
}

func minutes(n float64) time.Duration { return time.Duration(n * float64(time.Minute)) }

// The strip of the board shows real times. Of 100 head 25 were counted in the
// first 30 minutes, where the plan has an hour for all: what is left is reckoned
// at a pace a quarter of the way from planned to seen, so 0.75 × (0.75 × 60 +
// 30) = 56.25 minutes more.
func TestTodayShowsWhatWasReported(t *testing.T) {
	b, visits, reports := begunDay(t, 130)
	v := visits[1]
	v.Work, v.WorkLong, v.Head = time.Hour, 80*time.Minute, 100
	b.must(b.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "timed"}))
	started := b.now.Add(-minutes(30))
	reports[v.ID] = schedule.Report{Arrived: started.Add(-minutes(40)), Started: started, Head: 25}
	first := visits[0]
	reports[first.ID] = schedule.Report{
		Arrived: first.Arrive.Add(minutes(5)), Started: first.Arrive.Add(minutes(20)), Finished: first.Arrive.Add(minutes(50)), Left: first.Arrive.Add(minutes(70)), Head: 100,
	}
	stops := b.week().Days[0].Rounds[0].Stops
	now := stops[0].Arrive - 5 + 180
	for what, c := range map[string][2]int{
		"the first arrives": {stops[0].Arrive, now - 175}, "starts": {stops[0].Working, now - 160}, "finishes": {stops[0].Finish, now - 130}, "leaves": {stops[0].Leave, now - 110},
		"the second arrives": {stops[1].Arrive, now - 70}, "the second starts": {stops[1].Working, now - 30},
		"is expected to finish": {stops[1].Finish, now + 56}, "at the latest": {stops[1].Late, now + 71}, // 20 minutes of spread, three quarters left
		"the third stays": {stops[2].Arrive, stops[0].Arrive - 5 + 260},
	} {
		if c[0] != c[1] {
			t.Errorf("%s at %d, not %d minutes after midnight", what, c[0], c[1])
		}
	}
}

// At 11:00 the second visit turns out to take hours, so the third cannot begin
// in time: mending leaves what has begun alone, and rings only those after it.
func TestMendingAfterWhatIsUnderWay(t *testing.T) {
	b, visits, reports := begunDay(t, 110)
	slow := visits[1]
	reports[slow.ID] = schedule.Report{Arrived: slow.Arrive, Started: slow.Working(), Head: 2}
	f := b.mended(schedule.Order{From: sample.Day, Days: 4, Mend: true, Seed: 1}, nil)
	finish := b.week().Days[0].Rounds[0].Stops[1].Leave
	moved := map[booking.ID]bool{}
	for _, m := range f.Plan.Moves {
		moved[m.Booking] = true
		for _, v := range m.New {
			arrive := v.Arrive.In(sample.Business().Location())
			if v.Day == sample.Day && arrive.Hour()*60+arrive.Minute() < finish {
				t.Errorf("%s is to arrive at %s, before the rig leaves where it is", m.Farm, arrive)
			}
		}
	}
	if moved[visits[0].BookingID] || moved[slow.BookingID] || !moved[visits[2].BookingID] {
		t.Errorf("moved %v", moved)
	}
	if ring := f.Plan.Ring(); len(ring) == 0 || ring[0].Booking != visits[2].BookingID {
		t.Errorf("to be rung: %+v", ring)
	}
	b.accepted(f)
	for i, v := range visits[:2] {
		now, err := b.store.Visit(t.Context(), v.ID)
		b.must(err)
		if !now.Arrive.Equal(v.Arrive) || now.State != v.State {
			t.Errorf("visit %d is %s at %s now", i, now.State, now.Arrive)
		}
	}
}

// While all runs as planned, nobody has to be rung, whatever the time of day:
// also in the morning, when the rig is about to leave.
func TestNothingToMendToday(t *testing.T) {
	b, visits, reports := begunDay(t, 120)
	v := visits[1]
	share := float64(b.now.Sub(v.Working())) / float64(v.Work)
	reports[v.ID] = schedule.Report{Arrived: v.Arrive, Started: v.Working(), Head: min(int(share*float64(v.Head)), v.Head)}
	if f := b.mended(schedule.Order{From: sample.Day, Days: 4, Mend: true, Seed: 1}, nil); len(f.Plan.Moves) > 0 {
		t.Errorf("at %s: %+v", b.now, f.Plan.Moves)
	}
	early := newBench(t)
	waiting := early.at(early.asked(100, nil), sample.Day, 9*60)
	early.must(early.desk().Fix(t.Context(), waiting.ID, waiting.Version))
	early.now = waiting.Arrive.Add(-minutes(45))
	if f := early.mended(schedule.Order{From: sample.Day, Days: 4, Mend: true, Seed: 1}, nil); len(f.Plan.Moves) > 0 {
		t.Errorf("at %s: %+v", early.now, f.Plan.Moves)
	}
}
