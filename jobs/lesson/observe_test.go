package lesson

import (
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/jobs"

	"github.com/google/go-cmp/cmp"
)

var start = time.Date(2026, 3, 9, 8, 0, 0, 0, time.UTC)

func minute(m int) time.Time { return start.Add(time.Duration(m) * time.Minute) }

// docket: set up in 20 min, 240 ewes drenched of which 40 were trimmed, 120 lambs
// sorted three ways, in 90 and 60 min with a pause of 15 between.
func docket() jobs.SignedDocket {
	return jobs.SignedDocket{
		ID: "d", FarmID: "f", RigID: "r",
		Mobs: []jobs.MobLine{{ID: "ewes", Class: booking.Ewe, Worked: 240}, {ID: "lambs", Class: booking.Lamb, Worked: 120}, {ID: "gone", Worked: 9}},
		Lines: []jobs.Line{
			{Mob: "ewes", Service: pace.FootTrim, Head: 40}, {Mob: "ewes", Service: pace.Drench, Head: 240},
			{Mob: "lambs", Service: pace.Sort, Head: 120}, {Mob: "lambs", Service: pace.Weigh, Head: 118},
		},
		Docket: jobs.Docket{
			Arrived: minute(-20), SetUp: minute(0), Finished: minute(165), SignedAt: minute(170),
			Work: []jobs.Span{{From: minute(0), To: minute(90)}, {From: minute(105), To: minute(165)}},
			Tallies: []jobs.Tally{
				{Mob: "lambs", Service: pace.Sort, Gate: jobs.Ahead, Head: 50}, {Mob: "lambs", Service: pace.Sort, Gate: jobs.LeftGate, Head: 40},
				{Mob: "lambs", Service: pace.Sort, Gate: jobs.RightGate, Head: 30},
			},
		},
	}
}

func around() Around {
	return Around{
		Visit:   booking.Visit{Part: 1, Parts: 1},
		Mobs:    []booking.Mob{{ID: "ewes", Class: booking.Ewe, Head: 250, Horned: true, AtFoot: true}},
		Yard:    booking.Yard{FarmID: "f", Surface: booking.Soft, Power: true, Helper: true},
		Hygiene: booking.KnownInfected, Rig: booking.Rig{ID: "r", SideTilt: true, SortGates: 3, RacePlaces: 10, Crew: []booking.ID{"a", "b"}},
		Since: jobs.Docket{Finished: minute(165), Packed: minute(190)},
	}
}

// Who came is learned from, not who was planned; one who says nothing was
// planned.
func TestObserveTheCrewThatCame(t *testing.T) {
	d := docket()
	d.Docket.Hands = &jobs.Hands{People: 1}
	if got := Observe(d, around()).Job.Crew; got != (pace.Crew{People: 1}) {
		t.Errorf("%+v", got)
	}
	d.Docket.Hands = nil
	if got := Observe(d, around()).Job.Crew; got != (pace.Crew{People: 2, Pusher: true}) {
		t.Errorf("as planned: %+v", got)
	}
}

// Weight classes follow the animals that came: the job stays one that can be
// estimated.
func TestObserveWeighedMobs(t *testing.T) {
	a := around()
	a.Mobs[0].Weights = []booking.WeightClass{{Head: 100, Kg: 50}, {Head: 150, Kg: 80}}
	job := Observe(docket(), a).Job
	if err := job.Check(); err != nil || len(job.Mobs[0].Lots) != 2 {
		t.Errorf("%v, %v", job.Mobs[0].Lots, err)
	}
}

func TestObserve(t *testing.T) {
	got := Observe(docket(), around())
	if got.ID != "d" || got.Work != 150 || got.SetUp != 20 || got.PackDown != 25 {
		t.Errorf("%s: work %g, set-up %g, pack-down %g; want 150, 20, 25", got.ID, got.Work, got.SetUp, got.PackDown)
	}
	ewe := pace.Mob{Species: pace.Sheep, Class: pace.Ewe, Horned: true, LambsAtFoot: true}
	both, drench := ewe, ewe
	both.Head, both.Services = 40, []string{pace.Drench, pace.FootTrim}
	drench.Head, drench.Services = 200, []string{pace.Drench}
	want := pace.Job{
		Mobs: []pace.Mob{drench, both, {
			Species: pace.Sheep, Class: pace.Lamb, Head: 120, Services: []string{pace.Sort, pace.Weigh}, Gates: 3, // 2 of 120 unweighed are a slip
		}},
		Setting: pace.Setting{Surface: pace.Soft, Power: true, Helper: true, Hygiene: 3},
		Rig:     pace.Rig{SideTilt: true, LeadUpPlaces: 10, PoweredGates: 3},
		Crew:    pace.Crew{People: 2, Pusher: true}, FarmID: "f", CrewID: "r",
	}
	if diff := cmp.Diff(want, got.Job); diff != "" {
		t.Error(diff)
	}
	if err := got.Job.Check(); err != nil {
		t.Error(err)
	}
}

// On the second day of a visit the rig stands; before a night at the yard
// nothing is packed.
func TestObserveStandingRig(t *testing.T) {
	a := around()
	a.Visit = booking.Visit{Part: 2, Parts: 3, Overnight: true}
	got := Observe(docket(), a)
	if !got.Job.Setting.RigStanding || !got.Job.Setting.LeaveStanding || got.PackDown != 0 {
		t.Errorf("%+v, pack-down %g", got.Job.Setting, got.PackDown)
	}
}

// A clock that nobody stopped runs until the farmer signed.
func TestObserveRunningClock(t *testing.T) {
	d := docket()
	d.Docket.Work[1].To = time.Time{}
	if got := Observe(d, around()); got.Work != 155 {
		t.Errorf("work %g, want 155", got.Work)
	}
}

func TestObserveNothingCounted(t *testing.T) {
	got := Observe(jobs.SignedDocket{ID: "d"}, around())
	if got.Job.Check() == nil || len(got.Job.Mobs) != 0 {
		t.Errorf("%+v", got.Job)
	}
}
