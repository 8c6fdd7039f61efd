package jobs_test

import (
	"bytes"
	"encoding/json"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var signedAt = morning.Add(4 * time.Hour)

func frozen() jobs.SignedDocket {
	d := jobs.Freeze(jobs.Fold(wholeVisit()), sheet(), jobs.Names{Farm: "Hollow Farm", People: map[booking.ID]string{ann: "Ann", ben: "Ben"}}, signedAt)
	d.ID = "01890000-0000-7000-8000-0000000000d1"
	return d
}

// The lines are what wholeVisit says, by hand.
func TestFreezeLines(t *testing.T) {
	d := frozen()
	want := []jobs.Line{
		{Mob: ewes, Class: booking.Ewe, Service: "drench", Head: 239},
		{Mob: ewes, Class: booking.Ewe, Service: "foot-trim", Head: 239},
		{Mob: rams, Class: booking.Ram, Service: "drench", Head: 12},
	}
	if diff := cmp.Diff(want, d.Lines); diff != "" {
		t.Error(diff)
	}
	if want := []jobs.MobLine{{ewes, booking.Ewe, 240, 239}, {rams, booking.Ram, 12, 12}}; !cmp.Equal(want, d.Mobs) {
		t.Errorf("mobs %v, want %v", d.Mobs, want)
	}
	if d.Minutes != 210 || d.Number != 17 || len(d.Doubts) != 0 {
		t.Errorf("minutes %d, number %d, doubts %q; want 210, 17 and none", d.Minutes, d.Number, d.Doubts)
	}
}

// Go's own encoding of maps sorts members and is the referee for the order;
// RFC 8785 asks for that order and no white space.
func TestSealIsSortedAndTight(t *testing.T) {
	d := frozen()
	text := must[[]byte](t)(d.Seal())
	var tree map[string]any
	if err := json.Unmarshal(text, &tree); err != nil {
		t.Fatal(err)
	}
	if again := must[[]byte](t)(json.Marshal(tree)); !bytes.Equal(text, again) {
		t.Errorf("sealed\n%s\nwant\n%s", text, again)
	}
}

func TestUnseal(t *testing.T) {
	d := frozen()
	text := must[[]byte](t)(d.Seal())
	again := must[jobs.SignedDocket](t)(jobs.Unseal(text, d.Hash))
	if diff := cmp.Diff(d, again); diff != "" {
		t.Errorf("not the same after sealing and reading:\n%s", diff)
	}
	for i := range text {
		changed := bytes.Clone(text)
		changed[i] ^= 1
		if _, err := jobs.Unseal(changed, d.Hash); !fault.Is(err, fault.Internal) {
			t.Fatalf("byte %d changed and nobody noticed: %v", i, err)
		}
	}
}

// One visit, one text: however the events arrived, the hash is the same.
func TestHashDependsOnTheSetOfEventsOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := events.Draw(t, "events")
		first := jobs.Freeze(jobs.Fold(all), sheet(), jobs.Names{}, signedAt)
		second := jobs.Freeze(jobs.Fold(rapid.Permutation(all).Draw(t, "order")), sheet(), jobs.Names{}, signedAt)
		if _, err := first.Seal(); err != nil {
			t.Fatal(err)
		}
		if _, err := second.Seal(); err != nil {
			t.Fatal(err)
		}
		if first.Hash != second.Hash {
			t.Fatal("two hashes for one set of events")
		}
	})
}

func TestCorrection(t *testing.T) {
	old := frozen()
	fix := jobs.Correction{Docket: old.ID, Reason: "Two ewes were counted twice.", Heads: []jobs.Tally{
		{Mob: ewes, Service: "drench", Gate: "ahead", Head: 198}, {Mob: rams, Service: "drench", Head: 0}}}
	next := must[jobs.SignedDocket](t)(fix.Correct(old, sheet(), wholeVisit(), ben, signedAt.Add(time.Hour)))
	want := []jobs.Line{
		{Mob: ewes, Class: booking.Ewe, Service: "drench", Head: 237}, // 198 + 39
		{Mob: ewes, Class: booking.Ewe, Service: "foot-trim", Head: 239},
	}
	if diff := cmp.Diff(want, next.Lines); diff != "" {
		t.Error(diff)
	}
	if next.Supersedes != old.ID || next.Reason != fix.Reason || next.By != ben || next.Number != 17 {
		t.Errorf("it does not say what it mends: %+v", next)
	}
	if got := old.Docket.Done(ewes, "drench"); got != 239 {
		t.Errorf("the signed docket changed to %d", got)
	}
	if next.Docket.Signature == nil {
		t.Error("the farmer's signature is gone")
	}
}

// A correction that takes in what arrived late keeps the heads an earlier
// correction has set.
func TestCorrectionTakesInLateEvents(t *testing.T) {
	all := wholeVisit()
	first := jobs.Correction{Docket: "x", Reason: "Ahead was 190.", Heads: []jobs.Tally{{Mob: ewes, Service: "drench", Gate: "ahead", Head: 190}}}
	mended := must[jobs.SignedDocket](t)(first.Correct(frozen(), sheet(), all, ben, signedAt))
	a := at{made: 100}
	all = append(all, a.event(175, jobs.Counted, count(rams, 4, "", "drench")))
	second := jobs.Correction{Docket: "y", Reason: "The other phone had no signal.", Late: true}
	got := must[jobs.SignedDocket](t)(second.Correct(mended, sheet(), all, ben, signedAt))
	if got.Docket.Done(rams, "drench") != 16 || got.Docket.Done(ewes, "drench") != 190+39 {
		t.Errorf("%d rams and %d ewes drenched, want 16 and 229", got.Docket.Done(rams, "drench"), got.Docket.Done(ewes, "drench"))
	}
}

func TestCorrectionCheck(t *testing.T) {
	good := jobs.Tally{Mob: ewes, Service: "drench", Head: 1}
	for _, c := range []struct {
		name  string
		fix   jobs.Correction
		field string
	}{
		{"good", jobs.Correction{Reason: "Miscounted.", Heads: []jobs.Tally{good}}, ""},
		{"late alone", jobs.Correction{Reason: "No signal.", Late: true}, ""},
		{"without a reason", jobs.Correction{Heads: []jobs.Tally{good}}, "reason"},
		{"without a change", jobs.Correction{Reason: "Just so."}, "heads"},
		{"below zero", jobs.Correction{Reason: "x", Heads: []jobs.Tally{{Mob: ewes, Service: "drench", Head: -1}}}, "head.0"},
		{"of no mob", jobs.Correction{Reason: "x", Heads: []jobs.Tally{good, {Service: "drench", Head: 1}}}, "head.1"},
	} {
		t.Run(c.name, func(t *testing.T) { wantField(t, c.fix.Check(), c.field) })
	}
}
