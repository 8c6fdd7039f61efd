package jobs_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"

	"github.com/google/go-cmp/cmp"
)

func TestBatchRefusesEachByItself(t *testing.T) {
	sent := `{"events": [
		{"id":"01890000-0000-7000-9000-000000000001","device":"p","seq":1,"at":"2026-03-09T08:00:00Z","kind":"arrived"},
		{"id":"01890000-0000-7000-9000-000000000002","device":"p","seq":2,"at":"2026-03-09T08:01:00Z","kind":"danced"},
		{"id":"01890000-0000-7000-9000-000000000003","device":"p","seq":3,"at":"2036-03-09T08:01:00Z","kind":"started"},
		{"id":"seven","device":"p","seq":4,"at":"2026-03-09T08:01:00Z","kind":"started"},
		{"id":"01890000-0000-7000-9000-000000000005","device":"p","seq":5,"at":"2026-03-09T08:01:00Z","kind":"note","what":{"text":"x","colour":"red"}},
		{"id":"01890000-0000-7000-9000-000000000006","device":"p","seq":6,"at":"2026-03-09T08:01:00Z","kind":"started","mood":"good"},
		{"id":"01890000-0000-7000-9000-000000000007","visit":"01890000-0000-7000-8000-000000000099","device":"p","seq":7,"at":"2026-03-09T08:01:00Z","kind":"started"},
		{"id":"01890000-0000-7000-9000-000000000008","device":"p","seq":8,"at":"yesterday","kind":"started"},
		17, null, "x",
		{"id":"01890000-0000-7000-9000-000000000009","visit":"01890000-0000-7000-8000-000000000001","device":"p","seq":9,"at":"2026-03-09T10:01:00+02:00","kind":"counted","what":{"mob":"01890000-0000-7000-8000-0000000000a1","services":["drench"],"head":3}},
		{"id":"01890000-0000-7000-9000-000000000001","device":"p","seq":1,"at":"2026-03-09T08:00:00Z","kind":"arrived"}
	]}`
	b, err := jobs.ParseBatch([]byte(sent), visitID, morning)
	if err != nil {
		t.Fatal(err)
	}
	sound := b.Sound()
	if len(sound) != 2 || sound[0].Kind != jobs.Arrived || sound[1].What.(jobs.Count).Head != 3 {
		t.Fatalf("sound events %v, want the arrival and the count, once each", sound)
	}
	if want := morning.Add(60e9); !sound[1].At.Equal(want) || sound[1].At.Location() != want.Location() {
		t.Errorf("10:01 at +02:00 read as %v, want %v", sound[1].At, want)
	}
	stored := map[booking.ID]jobs.Answer{}
	for _, e := range sound {
		stored[e.ID] = jobs.Answer{ID: e.ID, Result: jobs.Accepted}
	}
	var got []string
	for _, a := range b.Answered(stored) {
		got = append(got, strings.TrimPrefix(string(a.ID), "01890000-0000-7000-9000-00000000000")+" "+string(a.Result))
		if (a.Result == jobs.Refused) != (a.Why != "") {
			t.Errorf("%v: a refusal says why, and nothing else does", a)
		}
	}
	want := []string{"1 accepted", "2 refused", "3 refused", "seven refused", "5 refused", "6 refused", "7 refused", "8 refused",
		" refused", " refused", " refused", "9 accepted", "1 accepted"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestBatchThatIsNone(t *testing.T) {
	many := `{"events":[` + strings.TrimSuffix(strings.Repeat("1,", jobs.MaxBatch+1), ",") + `]}`
	for _, c := range []struct {
		sent string
		kind fault.Kind
	}{
		{"", fault.Invalid}, {"{", fault.Invalid}, {"[]", fault.Invalid}, {`{"event":[]}`, fault.Invalid},
		{`{"events":{}}`, fault.Invalid}, {`{"events":[]} {"events":[]}`, fault.Invalid}, {many, fault.TooLarge},
	} {
		if _, err := jobs.ParseBatch([]byte(c.sent), visitID, morning); !fault.Is(err, c.kind) {
			t.Errorf("%.30q: %v, want %s", c.sent, err, c.kind)
		}
	}
	if b, err := jobs.ParseBatch([]byte(`{"events":[]}`), visitID, morning); err != nil || len(b.Answered(nil)) != 0 {
		t.Errorf("an empty batch: %v", err)
	}
}

// FuzzParseBatch: no text makes it fail in an unplanned way, each event gets
// exactly one answer, and what is taken survives being written and read again.
func FuzzParseBatch(f *testing.F) {
	for _, e := range wholeVisit() {
		text, err := json.Marshal(e)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(fmt.Appendf(nil, `{"events":[%s]}`, text))
	}
	f.Add([]byte(`{"events":[{"id":"x"},null,7]}`))
	f.Add([]byte(`{"events":[{"kind":"counted","what":{"head":1e999}}]}`))
	f.Fuzz(func(t *testing.T, sent []byte) {
		b, err := jobs.ParseBatch(sent, visitID, morning)
		if err != nil {
			if fault.KindOf(err) == fault.Internal {
				t.Fatalf("an unplanned error: %v", err)
			}
			return
		}
		var raw struct{ Events []json.RawMessage }
		if json.Unmarshal(sent, &raw) == nil && len(raw.Events) != len(b.Answered(nil)) {
			t.Fatalf("%d answers to %d events", len(b.Answered(nil)), len(raw.Events))
		}
		for _, e := range b.Sound() {
			readAgain(t, e)
		}
		jobs.Reconcile(jobs.Fold(b.Sound()), sheet())
	})
}

func readAgain(t *testing.T, e jobs.Event) {
	t.Helper()
	text, err := json.Marshal(e)
	if err != nil {
		t.Fatalf("writing an event that was taken: %v", err)
	}
	var again jobs.Event
	if err := json.Unmarshal(text, &again); err != nil {
		t.Fatalf("reading %s again: %v", text, err)
	}
	if diff := cmp.Diff(e, again); diff != "" {
		t.Fatalf("not the same after writing and reading:\n%s", diff)
	}
}

func TestEventsSurviveTheWire(t *testing.T) {
	for _, e := range wholeVisit() {
		e.Person = "" // the server says who sent it
		readAgain(t, e)
	}
}
