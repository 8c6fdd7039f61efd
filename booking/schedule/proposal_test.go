package schedule_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/booking/season"
	"drawbar/routing/round"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

func TestPlanPlacesAndSaysSo(t *testing.T) {
	b := newBench(t)
	b.asked(120, nil)
	p := b.propose()
	if placed, moved, out := p.Counts(); placed != 1 || moved+out+len(p.LeftOut) != 0 {
		t.Fatalf("%d placed, %d moved, %d out, %d left out", placed, moved, out, len(p.LeftOut))
	}
	if len(b.visits()) != 0 {
		t.Error("a proposal stored something")
	}
	b.applied()
	v := b.visits()[0]
	if v.State != booking.Pencilled || v.Head != 120 || v.Day.Before(sample.Day) {
		t.Errorf("%+v", v)
	}
	if again := b.propose(); len(again.Moves) != 0 || again.Same != 1 {
		t.Errorf("planning again would change %d visits", len(again.Moves))
	}
}

func TestSameDataSamePlan(t *testing.T) {
	b := newBench(t)
	for i := range 5 {
		b.asked(60+i*20, func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) {
			y.At = orb.Point{-75.5 - float64(i)/50, 38.9}
		})
	}
	first, second := b.found(), b.found()
	if len(first.Plan.Moves) == 0 || first.Planning.Fingerprint != second.Planning.Fingerprint {
		t.Errorf("%d moves, %s and %s", len(first.Plan.Moves), first.Planning.Fingerprint, second.Planning.Fingerprint)
	}
	if diff := cmp.Diff(first.Plan, second.Plan); diff != "" {
		t.Error(diff)
	}
}

// A promised visit stays where it is, whatever is planned around it.
func TestPromisesStay(t *testing.T) {
	b := newBench(t)
	b.asked(120, nil)
	b.applied()
	desk := &booking.Desk{Store: b.store, Now: func() time.Time { return b.now }}
	fixed := b.visits()[0]
	b.must(desk.Fix(t.Context(), fixed.ID, fixed.Version))
	for i := range 4 {
		b.asked(150, func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) {
			y.At = orb.Point{-75.4, 38.8 + float64(i)/20}
		})
	}
	b.applied()
	after, err := b.store.Visit(t.Context(), fixed.ID)
	b.must(err)
	if !after.Arrive.Equal(fixed.Arrive) || after.RigID != fixed.RigID || after.State != booking.Fixed {
		t.Errorf("moved from %s to %s, %s", fixed.Arrive, after.Arrive, after.State)
	}
}

// A booking too long for one day runs over days in a row, the rig stays, and
// the parts share the head.
func TestLongBookingsRunOverDays(t *testing.T) {
	b := newBench(t)
	ask := b.asked(900, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Mobs[0].Services = []string{"foot-check", "drench"}
	})
	b.applied()
	visits := b.visits()
	head := 0
	for i, v := range visits {
		head += v.Head
		if v.Part != i+1 || v.Parts != len(visits) {
			t.Errorf("part %d of %d in place %d", v.Part, v.Parts, i+1)
		}
		if i > 0 && (v.Day != visits[i-1].Day.AddDays(1) || !visits[i-1].Overnight || v.SetUp != 0) {
			t.Errorf("day %s after %s, overnight %v, set-up %s", v.Day, visits[i-1].Day, visits[i-1].Overnight, v.SetUp)
		}
	}
	if len(visits) < 2 || head != ask.Head() {
		t.Errorf("%d visits with %d head", len(visits), head)
	}
}

// Each booking without a day says the true reason.
func TestReasonsAreTrue(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*booking.Farm, *booking.Yard, *booking.Booking)
		says   string
	}{
		"gate":  {func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.GateWidth = 2.2 }, "The yard's gate is 2.2 m; Rig"},
		"train": {func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.TrainLength = 9 }, "11.5 m"},
		"skill": {func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) { k.Mobs[0].Services = []string{"crutch"} }, "somebody who can crutch"},
		"joining of 88 days": {func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Mobs[0].Services = []string{"scan"} // longer than 65 days: Teagasc 2023, see booking/season
			k.Mobs[0].MalesIn, k.Mobs[0].MalesOut = sample.Day.AddDays(-100), sample.Day.AddDays(-12)
		}, "one visit can count only up to 65: split the mob, or book 2 visits."},
		"past": {func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Windows = []booking.Window{{From: sample.Day.AddDays(-30), To: sample.Day.AddDays(-20), Part: booking.AllDay}}
		}, "The days that suited the farmer are over"},
		"before these days, but still to come": {func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Windows = []booking.Window{{From: sample.Day.AddDays(-30), To: sample.Day.AddDays(-1), Part: booking.AllDay}}
		}, "Suits until Sun 12 April, before the days shown."},
		"before and after": {func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Windows = []booking.Window{
				{From: sample.Day.AddDays(-30), To: sample.Day.AddDays(-1), Part: booking.AllDay},
				{From: sample.Day.AddDays(30), To: sample.Day.AddDays(40), Part: booking.AllDay},
			}
		}, "Suits from Wed 13 May on."},
		"later": {func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
			k.Windows = []booking.Window{{From: sample.Day.AddDays(30), To: sample.Day.AddDays(40), Part: booking.AllDay}}
		}, "Suits from Wed 13 May on."},
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			b.asked(80, c.change)
			for where, says := range map[string][]string{"plan": reasons(b.propose().LeftOut), "tray": trayReasons(b.week().Tray)} {
				if len(says) != 1 || !strings.Contains(says[0], c.says) {
					t.Errorf("the %s says %+v, want %q", where, says, c.says)
				}
			}
		})
	}
}

func reasons(out []schedule.Out) []string {
	var all []string
	for _, o := range out {
		all = append(all, o.Reason)
	}
	return all
}

func trayReasons(waiting []schedule.Waiting) []string {
	var all []string
	for _, w := range waiting {
		all = append(all, w.Reason)
	}
	return all
}

func TestRigInTheWorkshopStaysHome(t *testing.T) {
	b := newBench(t)
	ask := b.asked(80, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Windows = []booking.Window{{From: sample.Day, To: sample.Day, Part: booking.AllDay}}
	})
	b.must(b.store.SaveDayOff(t.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day, Reason: "brakes"}))
	p := b.propose()
	if len(p.LeftOut) != 1 || !strings.Contains(p.LeftOut[0].Reason, "on Mon 13 April") || !strings.Contains(p.LeftOut[0].Reason, "Tue 14 April") {
		t.Errorf("%s is told %v", ask.ID, reasons(p.LeftOut))
	}
}

// Whatever is asked for, an applied plan overlaps nowhere, begins when it suits
// the farmer and, in unlit yards, keeps to daylight. The planner's own referee
// checks the other rules, see routing/round.
func TestAppliedPlansHold(t *testing.T) {
	some(t, 40, func(r *rapid.T) {
		b := newBench(t)
		for i := range rapid.IntRange(1, 6).Draw(r, "bookings") {
			b.asked(rapid.IntRange(20, 400).Draw(r, "head"), func(f *booking.Farm, y *booking.Yard, k *booking.Booking) {
				f.Name, f.Hygiene = fmt.Sprint("Farm ", i), booking.Hygiene(rapid.IntRange(0, 3).Draw(r, "hygiene"))
				y.At = orb.Point{rapid.Float64Range(-75.8, -75.3).Draw(r, "lon"), rapid.Float64Range(38.5, 39.2).Draw(r, "lat")}
				y.Lights, y.Overnight = rapid.Bool().Draw(r, "lights"), rapid.Bool().Draw(r, "overnight")
				k.Windows[0].Part = rapid.SampledFrom(booking.DayParts).Draw(r, "part")
			})
		}
		b.applied()
		checkPlan(r, b)
		checkReferee(r, b)
	})
}

// checkReferee has the planner's referee look at the bridge's problem: at the
// plan that is found, and at the days as they are stored and read back.
func checkReferee(r *rapid.T, b *bench) {
	problem, plan, err := b.planner.Posed(b.Context(), sample.Day, 7, schedule.Search{Seed: 2, Iterations: 50})
	b.must(err)
	for _, v := range round.Validate(problem, plan) {
		r.Errorf("the plan: %s", v)
	}
	problem, plan, misfits, err := b.planner.AsPlaced(b.Context(), sample.Day, 7)
	b.must(err)
	for _, v := range round.Validate(problem, plan) {
		r.Errorf("as stored: %s", v)
	}
	if len(misfits) > 0 {
		r.Errorf("what was accepted does not fit: %v", misfits)
	}
}

func checkPlan(r *rapid.T, b *bench) {
	visits := b.visits()
	zone := sample.Business().Location()
	for i, v := range visits {
		if i > 0 && v.Arrive.Before(visits[i-1].Leave()) {
			r.Errorf("%s arrives before the visit before it leaves", v.ID)
		}
		ask, err := b.store.Booking(b.Context(), v.BookingID)
		b.must(err)
		if !ask.SuitsAt(v.Working(), zone) {
			r.Errorf("work begins at %s, which does not suit", v.Working().In(zone))
		}
		yard, err := b.store.Yard(b.Context(), v.YardID)
		b.must(err)
		light, err := season.Daylight(v.Day, sample.Business().Home, zone)
		b.must(err)
		if !yard.Lights && (v.Working().Before(light.Civil.From.Add(-time.Minute)) || v.Finish().After(light.Civil.To.Add(time.Minute))) {
			r.Errorf("works in the dark from %s to %s", v.Working().In(zone), v.Finish().In(zone))
		}
	}
}

// A visit that somebody fixed in the dark keeps its rig's day; the plan goes
// around it.
func TestFixedAgainstTheRules(t *testing.T) {
	b := newBench(t)
	v := b.at(b.asked(60, func(_ *booking.Farm, y *booking.Yard, _ *booking.Booking) { y.Lights = false }), sample.Day, 20*60)
	desk := &booking.Desk{Store: b.store, Now: func() time.Time { return b.now }}
	b.must(desk.Fix(t.Context(), v.ID, v.Version))
	for range 3 {
		b.asked(200, nil)
	}
	b.applied()
	for _, other := range b.visits() {
		if other.ID != v.ID && other.Day == v.Day {
			t.Errorf("another visit is on the day, at %s", other.Arrive)
		}
	}
}

// Of two rigs one has a side tilt and somebody who trims feet; while it is in
// the workshop the reason names what is missing, the days and the nearest day.
func TestReasonNamesWhatTheRigNeeds(t *testing.T) {
	b := newBench(t)
	trimmer := sample.Person(booking.Operator)
	trimmer.Skills = []booking.Skill{booking.SkillFootTrim}
	b.must(b.store.SavePerson(t.Context(), &trimmer))
	b.rig.SideTilt, b.rig.Crew = true, []booking.ID{trimmer.ID}
	b.must(b.store.SaveRig(t.Context(), &b.rig))
	plain := sample.Rig()
	plain.SideTilt, plain.Crew = false, []booking.ID{trimmer.ID}
	b.must(b.store.SaveRig(t.Context(), &plain))
	b.asked(20, func(_ *booking.Farm, _ *booking.Yard, k *booking.Booking) {
		k.Mobs[0].Services = []string{"foot-trim"}
		k.Windows = []booking.Window{{From: sample.Day, To: sample.Day.AddDays(1), Part: booking.AllDay}}
	})
	for i := range 2 {
		b.must(b.store.SaveDayOff(t.Context(), booking.DayOff{RigID: b.rig.ID, Date: sample.Day.AddDays(i), Reason: "brakes"}))
	}
	want := "No rig with a side tilt goes out between Mon 13 April and Tue 14 April. " + b.rig.Name + " has room on Wed 15 April; ring to ask."
	if got := reasons(b.propose().LeftOut); len(got) != 1 || got[0] != want {
		t.Errorf("it says %q, not %q", got, want)
	}
}
