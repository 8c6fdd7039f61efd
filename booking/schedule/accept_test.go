package schedule_test

import (
	"context"
	"flag"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/migrations/db"
	"drawbar/migrations/dbtest"
	"drawbar/routing/round"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// scattered stores bookings at yards around home, as drawn.
func scattered(r *rapid.T, b *bench, label string, most int) {
	for i := range rapid.IntRange(1, most).Draw(r, label) {
		b.asked(rapid.IntRange(20, 300).Draw(r, "head"), func(f *booking.Farm, y *booking.Yard, k *booking.Booking) {
			f.Name, f.Hygiene = fmt.Sprint(label, " ", i), booking.Hygiene(rapid.IntRange(0, 2).Draw(r, "hygiene"))
			y.At = orb.Point{rapid.Float64Range(-75.8, -75.3).Draw(r, "lon"), rapid.Float64Range(38.5, 39.2).Draw(r, "lat")}
			y.Overnight = rapid.Bool().Draw(r, "overnight")
			from := rapid.IntRange(0, 5).Draw(r, "from")
			k.Windows[0].From, k.Windows[0].To = sample.Day.AddDays(from), sample.Day.AddDays(rapid.IntRange(from, 6).Draw(r, "to"))
		})
	}
}

// some is rapid.Check with fewer weeks: each of them is planned several times.
func some(t *testing.T, n int, check func(*rapid.T)) {
	t.Helper()
	usual := flag.Lookup("rapid.checks").Value.String()
	if err := flag.Set("rapid.checks", strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = flag.Set("rapid.checks", usual) }() // it took a value before
	rapid.Check(t, check)
}

// Accepting one by one, in any order, leaves a week that the referee accepts,
// or is refused and changes nothing.
func TestAcceptingOneByOne(t *testing.T) {
	refused, taken := 0, 0
	some(t, 15, func(r *rapid.T) {
		b := newBench(t)
		scattered(r, b, "first", 4)
		b.applied()
		scattered(r, b, "then", 4)
		f := b.found()
		for _, i := range rapid.Permutation(indices(len(f.Plan.Moves))).Draw(r, "order") {
			before := b.visits()
			if _, err := b.planner.Accept(b.Context(), f.Planning.ID, f.Plan.Moves[i].Booking); err != nil {
				refused++
				if !fault.Is(err, fault.Conflict) {
					r.Fatal(err)
				}
				if diff := cmp.Diff(before, b.visits()); diff != "" {
					r.Errorf("refused, but changed: %s", diff)
				}
				continue
			}
			taken++
			checkReferee(r, b)
		}
	})
	if taken == 0 {
		t.Errorf("%d taken, %d refused: nothing was tried", taken, refused)
	}
}

func indices(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// Undoing puts everything back, but for the count of changes.
func TestUndoPutsBack(t *testing.T) {
	some(t, 15, func(r *rapid.T) {
		b := newBench(t)
		scattered(r, b, "first", 4)
		b.applied()
		scattered(r, b, "then", 4)
		f := b.found()
		if len(f.Plan.Moves) == 0 {
			return
		}
		before := b.live()
		b.accepted(f)
		last, ok, err := b.planner.Undoable(b.Context())
		b.must(err)
		if !ok {
			r.Fatal("nothing can be undone")
		}
		b.must(b.planner.Undo(b.Context(), last.ID))
		if diff := cmp.Diff(before, b.live(), cmpopts.IgnoreFields(booking.Visit{}, "Version")); diff != "" {
			r.Error(diff)
		}
		if err := b.planner.Undo(b.Context(), last.ID); !fault.Is(err, fault.Conflict) {
			r.Errorf("undone twice: %v", err)
		}
		b.accepted(f) // and it can be accepted again
	})
}

func (b *bench) live() []booking.Visit {
	b.Helper()
	visits, err := b.store.Visits(b.Context(), booking.VisitQuery{States: []booking.VisitState{booking.Pencilled, booking.Fixed}})
	b.must(err)
	return visits
}

// What was shown is what is applied: whatever changed meanwhile stops it and
// is named, and nothing is moved. On both engines.
func TestPlansThatRestOnWhatChanged(t *testing.T) {
	for name, c := range map[string]struct {
		change func(b *bench, ask, other booking.Booking)
		says   string
	}{
		"booking": {func(b *bench, ask, _ booking.Booking) {
			ask.Note = "One more thing."
			b.must(b.store.ChangeBooking(b.Context(), booking.BookingChange{Booking: &ask, Verb: "changed"}))
		}, "Booking 2 of "},
		"withdrawn": {func(b *bench, ask, _ booking.Booking) {
			ask.State = booking.Withdrawn
			b.must(b.store.ChangeBooking(b.Context(), booking.BookingChange{Booking: &ask, Verb: "withdrew"}))
		}, "is closed or gone"},
		"yard": {func(b *bench, ask, _ booking.Booking) {
			yard, err := b.store.Yard(b.Context(), ask.YardID)
			b.must(err)
			yard.Access = "The other gate."
			b.must(b.store.SaveYard(b.Context(), &yard))
		}, "The yard "},
		"crew": {func(b *bench, _, _ booking.Booking) {
			p, err := b.store.Person(b.Context(), b.rig.Crew[0])
			b.must(err)
			p.Phone = "1"
			b.must(b.store.SavePerson(b.Context(), &p))
		}, "has changed."},
		"workshop": {func(b *bench, _, _ booking.Booking) {
			b.must(b.store.SaveDayOff(b.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(2), Reason: "brakes"}))
		}, "stays at home on Wed 15 April: brakes."},
		"late start": {func(b *bench, _, _ booking.Booking) {
			b.must(b.store.SaveDayOff(b.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day, Reason: "tyre", From: 600}))
		}, "goes out on Mon 13 April only from 10:00: tyre."},
		"moved": {func(b *bench, _, other booking.Booking) {
			v := b.visitOf(other)
			moved, err := b.planner.Move(b.Context(), v.ID, v.Version, schedule.Place{Rig: b.rig.ID, Day: sample.Day.AddDays(4), Minute: 15 * 60})
			b.must(err)
			b.must(b.planner.Keep(b.Context(), moved))
		}, "was moved to Fri 17 April at 15:00"},
		"promised": {func(b *bench, _, other booking.Booking) {
			v := b.visitOf(other)
			b.must(b.desk().Fix(b.Context(), v.ID, v.Version))
		}, "is fixed now"},
		"placed": {func(b *bench, _, _ booking.Booking) {
			b.at(b.asked(30, nil), sample.Day.AddDays(5), 15*60)
		}, "was placed on Sat 18 April"},
	} {
		check := func(t *testing.T, d *db.DB) {
			b := benchOn(t, d)
			other := b.asked(60, nil)
			b.applied()
			ask := b.asked(120, nil)
			f := b.found()
			before := b.visits()
			c.change(b, ask, other)
			changed := len(b.visits()) - len(before)
			_, err := b.planner.Accept(t.Context(), f.Planning.ID)
			if !fault.Is(err, fault.Conflict) || !strings.Contains(fault.Sentence(err), c.says) {
				t.Errorf("accepting gives %v, want %q", err, c.says)
			}
			if got := len(b.visits()) - len(before); got != changed {
				t.Errorf("%d visits were stored", got-changed)
			}
		}
		t.Run(name, func(t *testing.T) { dbtest.Each(t, check) })
	}
}

func (b *bench) desk() *booking.Desk {
	return &booking.Desk{Store: b.store, Now: func() time.Time { return b.now }}
}

func (b *bench) visitOf(ask booking.Booking) booking.Visit {
	b.Helper()
	visits, err := b.store.Visits(b.Context(), booking.VisitQuery{BookingID: ask.ID})
	b.must(err)
	return visits[0]
}

// A visit's time that is taken by hand between planning and accepting keeps
// out what would not fit beside it, also when only one booking is accepted.
func TestOneThatNoLongerFits(t *testing.T) {
	b := newBench(t)
	ask := b.asked(120, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Windows = []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.AllDay}}
	})
	f := b.found()
	planned := f.Plan.Moves[0].New[0]
	other := b.asked(30, nil)
	local := planned.Leave().In(sample.Business().Location())
	b.at(other, sample.Day, local.Hour()*60+local.Minute()+1) // a minute after it, an hour's drive away or not
	_, err := b.planner.Accept(t.Context(), f.Planning.ID, ask.ID)
	if err == nil {
		problem, plan, misfits, err := b.planner.AsPlaced(t.Context(), sample.Day, 7)
		b.must(err)
		if wrong := round.Validate(problem, plan); len(wrong)+len(misfits) > 0 {
			t.Errorf("%v %v", wrong, misfits)
		}
		return
	}
	if !strings.Contains(fault.Sentence(err), "does not fit in beside") || len(b.visits()) != 1 {
		t.Errorf("%v, %d visits", err, len(b.visits()))
	}
}

func TestUndoIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change func(b *bench, v booking.Visit)
		says   string
	}{
		"promised": {func(b *bench, v booking.Visit) { b.must(b.desk().Fix(b.Context(), v.ID, v.Version)) }, "was promised to the farmer since"},
		"begun": {func(b *bench, v booking.Visit) {
			v.State = booking.UnderWay
			b.must(b.store.ApplyPlan(b.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "began"}))
		}, "has begun"},
		"moved": {func(b *bench, v booking.Visit) {
			v.Arrive = v.Arrive.Add(time.Minute)
			b.must(b.store.ApplyPlan(b.Context(), booking.PlanChange{Save: []*booking.Visit{&v}, Verb: "moved"}))
		}, "was moved since"},
		"called off": {func(b *bench, v booking.Visit) {
			b.must(b.store.ApplyPlan(b.Context(), booking.PlanChange{Drop: []booking.Visit{v}, Verb: "called off"}))
		}, "was called off since"},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			b.asked(100, nil)
			b.applied()
			c.change(b, b.visits()[0])
			before := b.visits()
			last, _, err := b.planner.Undoable(t.Context())
			b.must(err)
			if err := b.planner.Undo(t.Context(), last.ID); !fault.Is(err, fault.Conflict) || !strings.Contains(fault.Sentence(err), c.says) {
				t.Errorf("undoing gives %v, want %q", err, c.says)
			}
			if diff := cmp.Diff(before, b.visits()); diff != "" {
				t.Errorf("refused, but changed: %s", diff)
			}
		})
	}
}

// A search that is stopped keeps the best so far, and one whose process died
// is taken up by another.
func TestSearchesEndAndAreTakenUp(t *testing.T) {
	b := newBench(t)
	for range 4 {
		b.asked(80, nil)
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	order, err := b.planner.Ask(t.Context(), schedule.Order{From: sample.Day, Days: 7, Iterations: booking.MaxPlanIterations})
	b.must(err)
	b.must(b.planner.WorkShown(ctx, order.ID, func(booking.Progress) { cancel() }))
	f, err := b.planner.Found(t.Context(), order.ID)
	b.must(err)
	if len(f.Plan.Moves) != 4 || !f.Plan.Search.Stopped {
		t.Errorf("%d moves, stopped %v", len(f.Plan.Moves), f.Plan.Search.Stopped)
	}

	order, err = b.planner.Ask(t.Context(), schedule.Order{From: sample.Day, Days: 7, Iterations: 10})
	b.must(err)
	dead, ok, err := b.store.ClaimPlanning(t.Context(), order.ID) // and never heard of again
	b.must(err)
	b.must(b.planner.Work(t.Context(), order.ID)) // is not ours yet
	if now, _ := b.store.Planning(t.Context(), order.ID); !ok || now.State != booking.PlanSearching {
		t.Errorf("another took it: %s", now.State)
	}
	b.must(b.store.RetakePlannings(t.Context(), b.now.Add(schedule.Left)))
	b.must(b.planner.Work(t.Context(), order.ID))
	if _, err := b.planner.Found(t.Context(), order.ID); err != nil {
		t.Error(err)
	}
	dead.State = booking.PlanFailed
	b.must(b.store.EndPlanning(t.Context(), dead)) // comes back to life, too late
	if _, err := b.planner.Found(t.Context(), order.ID); err != nil {
		t.Error(err)
	}
}

func TestOrdersAreChecked(t *testing.T) {
	b := newBench(t)
	for field, o := range map[string]schedule.Order{
		"from": {Days: 7}, "days": {From: sample.Day, Days: 0}, "seconds": {From: sample.Day, Days: 7, Seconds: -1}, "iterations": {From: sample.Day, Days: 7, Iterations: -1},
	} {
		if _, err := b.planner.Ask(t.Context(), o); fault.FieldsOf(err)[field] == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := b.planner.Ask(t.Context(), schedule.Order{From: sample.Day.AddDays(-30), Days: 7}); !fault.Is(err, fault.Invalid) {
		t.Errorf("days that are over: %v", err)
	}
}
