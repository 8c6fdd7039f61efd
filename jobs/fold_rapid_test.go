package jobs_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/jobs"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var whats = rapid.OneOf(
	rapid.SampledFrom([]jobs.Kind{jobs.Arrived, jobs.SetUp, jobs.Started, jobs.Paused, jobs.Resumed, jobs.Finished, jobs.Packed, jobs.Left}).AsAny(),
	rapid.Custom(func(t *rapid.T) jobs.Count {
		return count(
			rapid.SampledFrom([]booking.ID{ewes, rams}).Draw(t, "mob"),
			rapid.IntRange(-20, 40).Filter(func(n int) bool { return n != 0 }).Draw(t, "head"),
			rapid.SampledFrom([]jobs.Gate{"", jobs.Ahead, jobs.LeftGate}).Draw(t, "gate"),
			rapid.SampledFrom([][]string{{"drench"}, {"foot-trim"}, {"drench", "foot-trim"}}).Draw(t, "services")...)
	}).AsAny(),
	rapid.Just(jobs.Note{Text: "gate sticks"}).AsAny(),
	rapid.Just(jobs.Incident{Mob: ewes, Head: 1, Text: "jumped out"}).AsAny(),
	rapid.Just(drench()).AsAny(),
	rapid.Just(jobs.NewMob{Mob: rams, Class: booking.Ram}).AsAny(),
	rapid.SampledFrom([]jobs.Hands{{People: 1}, {People: 2, Pusher: true}}).AsAny(),
	rapid.SampledFrom([]jobs.Signature{{Name: "Orla Finch"}, {Name: "Ned Finch"}}).AsAny(),
)

// events are a day's events of two phones; some strike out others, and many
// share a minute.
var events = rapid.Custom(func(t *rapid.T) []jobs.Event {
	n := rapid.IntRange(0, 30).Draw(t, "n")
	made := make([]jobs.Event, 0, n)
	for i := range n {
		e := jobs.Event{
			ID: booking.ID(fmt.Sprintf("01890000-0000-7000-9000-%012x", i)), VisitID: visitID, Seq: i,
			Device: rapid.SampledFrom([]string{"phone-1", "phone-2"}).Draw(t, "device"),
			Person: rapid.SampledFrom([]booking.ID{ann, ben}).Draw(t, "person"),
			At:     morning.Add(time.Duration(rapid.IntRange(0, 20).Draw(t, "minute")) * time.Minute),
		}
		if i > 0 && rapid.IntRange(0, 5).Draw(t, "strike") == 0 {
			e.Kind, e.What = jobs.StruckOut, jobs.Strike{Event: made[rapid.IntRange(0, i-1).Draw(t, "which")].ID}
		} else {
			e.Kind, e.What = kindOf(whats.Draw(t, "what"))
		}
		made = append(made, e)
	}
	return made
})

func kindOf(drawn any) (jobs.Kind, jobs.Payload) {
	switch what := drawn.(type) {
	case jobs.Kind:
		return what, nil
	case jobs.Count:
		return jobs.Counted, what
	case jobs.Note:
		return jobs.Noted, what
	case jobs.Incident:
		return jobs.Happened, what
	case jobs.Treatment:
		return jobs.Treated, what
	case jobs.NewMob:
		return jobs.AddedMob, what
	case jobs.Hands:
		return jobs.HandsTold, what
	case jobs.Signature:
		return jobs.SignedFor, what
	}
	panic("a payload without a kind")
}

// Any order, and any event any number of times, give the same docket.
func TestFoldOrderAndRepeatsMeanNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sent := events.Draw(t, "events")
		want := jobs.Fold(sent)
		again := slices.Clone(sent)
		for range rapid.IntRange(0, 10).Draw(t, "repeats") {
			if len(sent) > 0 {
				again = append(again, rapid.SampledFrom(sent).Draw(t, "repeat"))
			}
		}
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		random.Shuffle(len(again), func(i, j int) { again[i], again[j] = again[j], again[i] })
		if diff := cmp.Diff(want, jobs.Fold(again)); diff != "" {
			t.Fatalf("the docket depends on the order or on repeats:\n%s", diff)
		}
	})
}

// Each phone's events may arrive in any split and the phones add up: the head
// of the whole is the sum over the phones, where nothing is taken back.
func TestPhonesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var first, second, all []jobs.Event
		want := map[string]int{}
		for i, e := range events.Draw(t, "events") {
			c, ok := e.What.(jobs.Count)
			if !ok {
				continue
			}
			c.Head = max(c.Head, -c.Head)
			e.What = c
			for _, s := range c.Services {
				want[string(c.Mob)+s] += c.Head
			}
			all = append(all, e)
			if i%2 == 0 {
				first = append(first, e)
			} else {
				second = append(second, e)
			}
		}
		one, two, both := jobs.Fold(first), jobs.Fold(second), jobs.Fold(all)
		for _, mob := range []booking.ID{ewes, rams} {
			for _, service := range []string{"drench", "foot-trim"} {
				sum := one.Done(mob, service) + two.Done(mob, service)
				if got := both.Done(mob, service); got != sum || got != want[string(mob)+service] {
					t.Fatalf("%s: %d together, %d apart, %d counted by hand", service, got, sum, want[string(mob)+service])
				}
			}
		}
	})
}

func TestFoldKeepsItsInput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sent := events.Draw(t, "events")
		before := slices.Clone(sent)
		jobs.Fold(sent)
		if !cmp.Equal(before, sent) {
			t.Fatal("folding changed the events it was given")
		}
	})
}
