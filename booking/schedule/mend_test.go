package schedule_test

import (
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/booking/say"
	"drawbar/booking/schedule"

	"github.com/paulmach/orb"
)

// promised is a week with three visits, the first of them fixed.
func promised(t *testing.T) (*bench, booking.Visit) {
	b := newBench(t)
	for i := range 3 {
		b.asked(150, func(f *booking.Farm, y *booking.Yard, _ *booking.Booking) {
			f.Phone = "302-555-010" + string(rune('0'+i))
			y.At = orb.Point{-75.5, 38.8 + float64(i)/20}
		})
	}
	b.applied()
	fixed := b.visits()[0]
	b.must(b.desk().Fix(t.Context(), fixed.ID, fixed.Version))
	fixed, err := b.store.Visit(t.Context(), fixed.ID)
	b.must(err)
	return b, fixed
}

// mended marks trouble and has the smallest change found.
func (b *bench) mended(o schedule.Order, err error) *schedule.Found {
	b.Helper()
	b.must(err)
	o.Seconds, o.Iterations = 0, 1000
	order, err := b.planner.Ask(b.Context(), o)
	b.must(err)
	b.must(b.planner.Work(b.Context(), order.ID))
	f, err := b.planner.Found(b.Context(), order.ID)
	b.must(err)
	return f
}

// A rig breaks down: the promise of that day moves, whoever is to be rung is
// named, and accepting tells the farmer, who keeps a promised day.
func TestBreakdownMovesThePromiseAndTellsTheFarmer(t *testing.T) {
	b, fixed := promised(t)
	f := b.mended(b.planner.Mark(t.Context(), schedule.Trouble{
		Rigs: []booking.ID{b.rig.ID}, Day: fixed.Day, Until: fixed.Day.AddDays(1), Reason: "axle",
	}))
	ring := f.Plan.Ring()
	if len(ring) != 1 || !strings.HasPrefix(ring[0].Phone, "302-555-010") {
		t.Fatalf("to be rung: %+v", ring)
	}
	if !strings.Contains(f.Plan.Moves[0].Reason, "axle") {
		t.Errorf("the reason is %q", f.Plan.Moves[0].Reason)
	}
	unsent, err := b.store.CountUnsent(t.Context())
	b.must(err)
	b.accepted(f)
	v, err := b.store.Visit(t.Context(), fixed.ID)
	b.must(err)
	if v.State != booking.Fixed || v.Day.DaysSince(fixed.Day) < 2 {
		t.Errorf("it is %s on %s", v.State, v.Day)
	}
	if n, _ := b.store.CountUnsent(t.Context()); n != unsent+1 {
		t.Errorf("%d letters before and %d after", unsent, n)
	}
	notice, _, err := b.store.ClaimNotice(t.Context(), b.now.Add(time.Hour))
	for err == nil && !strings.Contains(notice.Subject, "we have to move") {
		if notice, _, err = b.store.ClaimNotice(t.Context(), b.now.Add(time.Hour)); notice.ID == "" {
			t.Fatal("no letter tells of the move")
		}
	}
	if !strings.Contains(notice.Body, "instead of:") {
		t.Errorf("the letter says %s", notice.Body)
	}
}

// A late start moves what would be too early, and nothing else.
func TestLateStart(t *testing.T) {
	b, fixed := promised(t)
	before := b.live()
	f := b.mended(b.planner.Mark(t.Context(), schedule.Trouble{
		Rigs: []booking.ID{b.rig.ID}, Day: fixed.Day, Until: fixed.Day, From: 12 * 60, Reason: "tyre",
	}))
	b.accepted(f)
	zone := sample.Business().Location()
	for _, v := range b.live() {
		if local := v.Arrive.In(zone); v.Day == fixed.Day && local.Hour() < 12 {
			t.Errorf("%s arrives at %s", v.ID, local)
		}
	}
	moved := 0
	for i, v := range b.live() {
		if before[i].Day != fixed.Day && v != before[i] {
			moved++
		}
	}
	if moved > 0 {
		t.Errorf("%d visits of other days moved", moved)
	}
}

// Trouble on a day without visits changes nothing.
func TestNothingToMend(t *testing.T) {
	b, _ := promised(t)
	b.asked(80, nil) // has no day, and is left for a plan of the week
	f := b.mended(b.planner.Mark(t.Context(), schedule.Trouble{
		Rigs: []booking.ID{b.rig.ID}, Day: sample.Day.AddDays(5), Until: sample.Day.AddDays(5), Reason: "rained off",
	}))
	if len(f.Plan.Moves) > 0 {
		t.Errorf("%+v", f.Plan.Moves)
	}
}

// Half the mob takes less time: about half of the work, for work that is
// done head by head (common practice, no source).
func TestHalfTheMob(t *testing.T) {
	b, fixed := promised(t)
	order, err := b.planner.Resize(t.Context(), fixed.ID, fixed.Version, []int{75})
	b.must(err)
	v, err := b.store.Visit(t.Context(), fixed.ID)
	b.must(err)
	ask, err := b.store.Booking(t.Context(), fixed.BookingID)
	b.must(err)
	if share := float64(v.Work) / float64(fixed.Work); share < 0.4 || share > 0.65 || v.Head != 75 || ask.Head() != 75 || v.State != booking.Fixed {
		t.Errorf("%.2f of the work, %d head, %d booked, %s", share, v.Head, ask.Head(), v.State)
	}
	if !v.Arrive.Equal(fixed.Arrive) || order.From != fixed.Day || !order.Mend {
		t.Errorf("arrives %s instead of %s; %+v", v.Arrive, fixed.Arrive, order)
	}
}

func TestTroubleIsChecked(t *testing.T) {
	b, fixed := promised(t)
	good := schedule.Trouble{Rigs: []booking.ID{b.rig.ID}, Day: sample.Day, Until: sample.Day, Reason: "rain"}
	for field, change := range map[string]func(*schedule.Trouble){
		"rigs": func(t *schedule.Trouble) { t.Rigs = nil }, "reason": func(t *schedule.Trouble) { t.Reason = " " },
		"until": func(t *schedule.Trouble) { t.Until = sample.Day.AddDays(-1) },
	} {
		bad := good
		change(&bad)
		if _, err := b.planner.Mark(t.Context(), bad); fault.FieldsOf(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := b.planner.Resize(t.Context(), fixed.ID, fixed.Version, []int{0}); fault.FieldsOf(err)["head.0"] == "" {
		t.Errorf("no animals: %v", err)
	}
	if _, err := b.planner.Resize(t.Context(), fixed.ID, fixed.Version+1, []int{5}); !fault.Is(err, fault.Conflict) {
		t.Errorf("an old version: %v", err)
	}
}

// A visit that only gets longer is not told as moved from a time to the same.
func TestSameStartSaysWhatChanges(t *testing.T) {
	b := newBench(t)
	b.asked(150, nil)
	b.applied()
	v := b.visits()[0]
	v.Work += 20 * time.Minute
	v.WorkLong += 20 * time.Minute
	b.must(b.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "timed"}))
	moves := b.propose().Moves
	if len(moves) != 1 || moves[0].Kind() != schedule.Timed {
		t.Fatalf("%+v", moves)
	}
	leave := func(v booking.Visit) string { return say.Time(v.Leave(), sample.Business().Location()) }
	if want := "same start, leaves at " + leave(moves[0].New[0]) + " instead of " + leave(v); moves[0].Now[0] != want {
		t.Errorf("it says %q, not %q", moves[0].Now[0], want)
	}
}

// A rig that stands at a farm and breaks down for all the days that are planned
// is left standing; the plan is made without it.
func TestBreakdownOfARigThatIsOut(t *testing.T) {
	b := newBench(t)
	v := b.at(b.asked(80, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Windows[0].From = sample.Day.AddDays(-3)
	}), sample.Day, 9*60)
	v.State, v.Overnight = booking.UnderWay, true
	b.must(b.store.ApplyPlan(t.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "began"}))
	b.now = b.now.AddDate(0, 0, 4)
	ask := b.asked(80, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Windows = []booking.Window{{From: sample.Day.AddDays(1), To: sample.Day.AddDays(3), Part: booking.AllDay}}
	})
	for i := range 7 {
		b.must(b.store.SaveDayOff(t.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(1 + i), Reason: "axle"}))
	}
	p, err := b.planner.Propose(t.Context(), sample.Day.AddDays(1), 7, schedule.Search{Seed: 1, Iterations: 100})
	b.must(err)
	if len(p.LeftOut) != 1 || p.LeftOut[0].Booking != ask.ID || !strings.Contains(p.LeftOut[0].Reason, "goes out between") {
		t.Errorf("left out: %v", reasons(p.LeftOut))
	}
}

// Somebody calls in ill on a promised day: the others get the time they take,
// on the day that was promised.
func TestSomebodyAwayLeavesThePromiseItsDay(t *testing.T) {
	b := newBench(t)
	second := b.twoHands()
	b.asked(150, nil)
	b.applied()
	fixed := b.visits()[0]
	b.must(b.desk().Fix(t.Context(), fixed.ID, fixed.Version))
	both := b.work(fixed, 2)
	f := b.mended(b.planner.MarkAway(t.Context(), second.ID, booking.Away{From: fixed.Day, To: fixed.Day, Reason: "ill"}))
	b.accepted(f)
	alone, err := b.store.Visit(t.Context(), fixed.ID)
	b.must(err)
	if alone.Day != fixed.Day || alone.State != booking.Fixed || alone.Work != b.work(alone, 1) || alone.Work <= both {
		t.Errorf("%s on %s, %v, where one takes %v and two take %v", alone.State, alone.Day, alone.Work, b.work(alone, 1), both)
	}
	// noted again, it is not noted twice
	b.mended(b.planner.MarkAway(t.Context(), second.ID, booking.Away{From: fixed.Day, To: fixed.Day.AddDays(1)}))
	people, err := b.store.People(t.Context())
	b.must(err)
	for _, p := range people {
		if p.ID == second.ID && len(p.Away) != 1 {
			t.Errorf("away: %+v", p.Away)
		}
	}
}

func TestWhoCannotBeAway(t *testing.T) {
	b := newBench(t)
	day := sample.Day
	for field, c := range map[string]struct {
		who  booking.ID
		away booking.Away
	}{
		"who": {booking.NewID(), booking.Away{From: day, To: day}},
		"to":  {b.rig.Crew[0], booking.Away{From: day, To: day.AddDays(-1)}},
	} {
		if _, err := b.planner.MarkAway(t.Context(), c.who, c.away); fault.FieldsOf(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	past := sample.Today.AddDays(-1)
	if _, err := b.planner.MarkAway(t.Context(), b.rig.Crew[0], booking.Away{From: past, To: day}); fault.FieldsOf(err)["to"] == "" {
		t.Errorf("on a day that is over: %v", err)
	}
}
