package jobs_test

import (
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"
	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/quagmt/udecimal"
)

func TestEventCheck(t *testing.T) {
	now := morning.Add(time.Hour)
	var a at
	for _, c := range []struct {
		name   string
		kind   jobs.Kind
		what   jobs.Payload
		change func(*jobs.Event)
		field  string // "" for a good event
	}{
		{name: "good", kind: jobs.Arrived},
		{name: "clock a day ahead is let through", kind: jobs.Arrived, change: func(e *jobs.Event) { e.At = now.Add(24 * time.Hour) }},
		{name: "clock further ahead", kind: jobs.Arrived, change: func(e *jobs.Event) { e.At = now.Add(24*time.Hour + time.Millisecond) }, field: "at"},
		{name: "clock never set", kind: jobs.Arrived, change: func(e *jobs.Event) { e.At = time.Unix(0, 0) }, field: "at"},
		{name: "recorded weeks ago without signal", kind: jobs.Arrived, change: func(e *jobs.Event) { e.At = now.AddDate(0, -2, 0) }},
		{name: "random id", kind: jobs.Arrived, change: func(e *jobs.Event) { e.ID = "2b0f6f4e-6f5b-4b57-8a0e-1f4b8a0b0c0d" }, field: "id"},
		{name: "id in capitals", kind: jobs.Arrived, change: func(e *jobs.Event) { e.ID = booking.ID(strings.ToUpper("01890000-0000-7000-8000-00000000000a")) }, field: "id"},
		{name: "no id", kind: jobs.Arrived, change: func(e *jobs.Event) { e.ID = "" }, field: "id"},
		{name: "no visit", kind: jobs.Arrived, change: func(e *jobs.Event) { e.VisitID = "" }, field: "visit"},
		{name: "no device", kind: jobs.Arrived, change: func(e *jobs.Event) { e.Device = " " }, field: "device"},
		{name: "counting down", kind: jobs.Arrived, change: func(e *jobs.Event) { e.Seq = -1 }, field: "seq"},
		{name: "unknown kind", kind: "danced", field: "kind"},
		{name: "arrived with more to say", kind: jobs.Arrived, what: jobs.Note{Text: "hello"}, field: "what"},
		{name: "counted nothing", kind: jobs.Counted, field: "what"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := a.event(0, c.kind, c.what)
			if c.change != nil {
				c.change(&e)
			}
			wantField(t, e.Check(now), c.field)
		})
	}
}

func wantField(t *testing.T, err error, field string) {
	t.Helper()
	fields := fault.FieldsOf(err)
	switch {
	case field == "" && err != nil:
		t.Errorf("refused: %v %v", err, fields)
	case field != "" && (len(fields) != 1 || fields[field] == ""):
		t.Errorf("complaints %v, want one about %q", fields, field)
	}
}

func TestPayloadCheck(t *testing.T) {
	var a at
	change := func(edit func(*jobs.Treatment)) jobs.Treatment {
		given := drench()
		edit(&given)
		return given
	}
	for _, c := range []struct {
		name  string
		kind  jobs.Kind
		what  jobs.Payload
		field string
	}{
		{"count", jobs.Counted, count(ewes, 1, "left", "drench"), ""},
		{"taking back", jobs.Counted, count(ewes, -1000, "", "drench"), ""},
		{"count of none", jobs.Counted, count(ewes, 0, "", "drench"), "head"},
		{"count of too many", jobs.Counted, count(ewes, 1001, "", "drench"), "head"},
		{"count of no mob", jobs.Counted, count("", 1, "", "drench"), "mob"},
		{"count of no service", jobs.Counted, count(ewes, 1, ""), "services"},
		{"count of a service twice", jobs.Counted, count(ewes, 1, "", "drench", "drench"), "services"},
		{"count of a service with blanks", jobs.Counted, count(ewes, 1, "", "foot trim"), "services"},
		{"count at a gate with a long name", jobs.Counted, count(ewes, 1, jobs.Gate(strings.Repeat("x", 31)), "drench"), "gate"},
		{"mob", jobs.AddedMob, jobs.NewMob{Mob: rams, Class: booking.Ram}, ""},
		{"mob of cattle", jobs.AddedMob, jobs.NewMob{Mob: rams, Class: "cow"}, "class"},
		{"note", jobs.Noted, jobs.Note{Text: "Gate sticks."}, ""},
		{"hands", jobs.HandsTold, jobs.Hands{People: 2, Pusher: true}, ""},
		{"nobody came", jobs.HandsTold, jobs.Hands{Pusher: true}, "people"},
		{"a crowd came", jobs.HandsTold, jobs.Hands{People: jobs.MaxHands + 1}, "people"},
		{"empty note", jobs.Noted, jobs.Note{Text: " \n"}, "text"},
		{"long note", jobs.Noted, jobs.Note{Text: strings.Repeat("x", 2001)}, "text"},
		{"note that is not text", jobs.Noted, jobs.Note{Text: "\xff"}, "text"},
		{"incident without animals", jobs.Happened, jobs.Incident{Text: "Hose burst."}, ""},
		{"incident with head of no mob", jobs.Happened, jobs.Incident{Head: 1, Text: "Jumped."}, "mob"},
		{"incident below zero", jobs.Happened, jobs.Incident{Mob: ewes, Head: -1, Text: "Jumped."}, "head"},
		{"signature by name alone", jobs.SignedFor, jobs.Signature{Name: "Orla Finch"}, ""},
		{"signature of nobody", jobs.SignedFor, jobs.Signature{Drawing: "M0,0"}, "name"},
		{"signature with a script in it", jobs.SignedFor, jobs.Signature{Name: "O", Drawing: `M0,0"/><script>`}, "drawing"},
		{"signature at the limit", jobs.SignedFor, jobs.Signature{Name: "O", Drawing: strings.Repeat("1", 64<<10)}, ""},
		{"signature past the limit", jobs.SignedFor, jobs.Signature{Name: "O", Drawing: strings.Repeat("1", 64<<10+1)}, "drawing"},
		{"strike of nothing", jobs.StruckOut, jobs.Strike{}, "event"},
		{"treatment", jobs.Treated, drench(), ""},
		{"treatment without withdrawal", jobs.Treated, change(func(g *jobs.Treatment) { g.MeatDays = 0 }), ""},
		{"treatment from an expired pack is still written down", jobs.Treated, change(func(g *jobs.Treatment) { g.Expiry = civil.Date{Year: 2026, Month: 3, Day: 8} }), ""},
		{"treatment of no product", jobs.Treated, change(func(g *jobs.Treatment) { g.Product = "" }), "product"},
		{"treatment of no batch", jobs.Treated, change(func(g *jobs.Treatment) { g.Batch = "" }), "batch"},
		{"treatment of no head", jobs.Treated, change(func(g *jobs.Treatment) { g.Head = 0 }), "head"},
		{"treatment without a dose", jobs.Treated, change(func(g *jobs.Treatment) { g.Dose = udecimal.Zero }), "dose"},
		{"treatment with a dose below zero", jobs.Treated, change(func(g *jobs.Treatment) { g.Dose = udecimal.MustParse("-1") }), "dose"},
		{"treatment in bushels", jobs.Treated, change(func(g *jobs.Treatment) { g.Unit = "bushel" }), "unit"},
		{"treatment by post", jobs.Treated, change(func(g *jobs.Treatment) { g.Route = "post" }), "route"},
		{"treatment with days below zero", jobs.Treated, change(func(g *jobs.Treatment) { g.MeatDays = -1 }), "meatDays"},
		{"treatment on no day", jobs.Treated, change(func(g *jobs.Treatment) { g.Given = civil.Date{} }), "given"},
		{"treatment without expiry", jobs.Treated, change(func(g *jobs.Treatment) { g.Expiry = civil.Date{} }), "expiry"},
	} {
		t.Run(c.name, func(t *testing.T) {
			wantField(t, a.event(0, c.kind, c.what).Check(morning), c.field)
		})
	}
}
