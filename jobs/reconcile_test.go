package jobs_test

import (
	"slices"
	"testing"

	"drawbar/booking"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/google/go-cmp/cmp"
)

func TestReconcileWholeVisit(t *testing.T) {
	if got := jobs.Reconcile(jobs.Fold(wholeVisit()), sheet()); len(got) != 0 {
		t.Errorf("everything adds up, yet: %q", got)
	}
}

// The numbers in the sentences are worked out by hand.
func TestReconcileSays(t *testing.T) {
	var a at
	arrived, started, finished := a.event(0, jobs.Arrived, nil), a.event(30, jobs.Started, nil), a.event(180, jobs.Finished, nil)
	usual := []jobs.Event{arrived, started, finished,
		a.event(60, jobs.Counted, count(ewes, 240, "", "drench", "foot-trim")),
		a.event(70, jobs.Counted, count(rams, 12, "", "drench"))}
	stranger := booking.ID("01890000-0000-7000-8000-0000000000a9")
	for _, c := range []struct {
		name   string
		events []jobs.Event
		parts  int
		want   []string
	}{
		{"all well", usual, 1, nil},
		{"nothing counted", []jobs.Event{arrived, started, finished}, 1, []string{"Nothing has been counted."}},
		{"fewer ewes", append(slices.Clone(usual), a.event(80, jobs.Counted, count(ewes, -2, "", "drench", "foot-trim"))), 1,
			[]string{"240 ewes booked, 238 worked: 2 not accounted for."}},
		{"fewer and an incident", append(slices.Clone(usual), a.event(80, jobs.Counted, count(ewes, -2, "", "drench", "foot-trim")),
			a.event(81, jobs.Happened, jobs.Incident{Mob: ewes, Head: 1, Text: "Lame."})), 1,
			[]string{"240 ewes booked, 238 worked, 1 lost to the count by an incident: 1 not accounted for."}},
		{"more rams", append(slices.Clone(usual), a.event(80, jobs.Counted, count(rams, 3, "left", "drench"))), 1,
			[]string{"12 rams booked, 15 worked: 3 more than booked."}},
		{"a service for some", append(slices.Clone(usual), a.event(80, jobs.Counted, count(ewes, -40, "", "foot-trim"))), 1,
			[]string{"Foot trim was done to 200 of the 240 ewes."}},
		{"a service nobody booked", append(slices.Clone(usual), a.event(80, jobs.Counted, count(rams, 5, "", "weigh"))), 1,
			[]string{"Weigh was not booked for the rams and was done to 5."}},
		{"a mob nobody booked", append(slices.Clone(usual), a.event(79, jobs.AddedMob, jobs.NewMob{Mob: stranger, Class: booking.Lamb}), a.event(80, jobs.Counted, count(stranger, 9, "", "drench"))), 1, nil},
		{"a mob that has gone", append(slices.Clone(usual), a.event(80, jobs.Counted, count(stranger, 9, "", "drench"))), 1,
			[]string{"9 head were counted for a mob that is not on the booking any more."}},
		{"taken back too often", append(slices.Clone(usual), a.event(80, jobs.Counted, count(ewes, -3, "left", "drench"))), 1,
			[]string{"Drench for the ewes: 3 more were taken back than counted at the gate “left”; it stands at 0."}},
		{"more treated than worked", append(slices.Clone(usual), a.event(80, jobs.Treated, treat(241, 31))), 1,
			[]string{"Example drench is down for 241 ewes and only 240 were worked."}},
		{"an expired pack", append(slices.Clone(usual), a.event(80, jobs.Treated, treat(240, 1))), 1,
			[]string{"Example drench, batch B-0417, had expired on the day it was given. Ring the vet."}},
		{"not finished", slices.DeleteFunc(slices.Clone(usual), func(e jobs.Event) bool { return e.Kind == jobs.Finished }), 1,
			[]string{"The work is not marked as finished."}},
		{"never started", slices.DeleteFunc(slices.Clone(usual), func(e jobs.Event) bool { return e.Kind == jobs.Started || e.Kind == jobs.Finished }), 1,
			[]string{"The start of the work was not recorded, so there is no pace."}},
		{"never arrived", usual[1:], 1, []string{"The arrival was not recorded."}},
		{"signed for another number", append(slices.Clone(usual), a.event(190, jobs.SignedFor, jobs.Signature{Name: "Orla Finch", Seen: 250})), 1,
			[]string{"The farmer signed when the screen showed 250 head; it is 252 now."}},
		{"one of two visits", append(slices.Clone(usual), a.event(80, jobs.Counted, count(rams, -2, "", "drench"))), 2,
			[]string{"252 head for this visit booked, 250 worked: 2 not accounted for."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := sheet()
			s.Visit.Parts = c.parts
			got := jobs.Reconcile(jobs.Fold(c.events), s)
			if diff := cmp.Diff(c.want, got); len(c.want)+len(got) > 0 && diff != "" {
				t.Error(diff)
			}
		})
	}
}

func treat(head, lastDay int) jobs.Treatment {
	given := drench()
	given.Head, given.Expiry = head, civil.Date{Year: 2026, Month: 3, Day: lastDay}
	return given
}
