package phone_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/jobs"
)

// sent is an event as a phone sends it.
func sent(id booking.ID, kind, what string) string {
	if what != "" {
		what = `,"what":` + what
	}
	return fmt.Sprintf(`{"id":"%s","device":"phone-1","seq":1,"at":"%s","kind":"%s"%s}`, id, time.Now().UTC().Format(time.RFC3339Nano), kind, what)
}

func batch(events ...string) string { return `{"events":[` + strings.Join(events, ",") + `]}` }

// answers are the results of a batch, in order.
func (c *client) answers(events ...string) (results []jobs.Result, says string) {
	c.Helper()
	a := c.json("/api"+c.visitPath()+"/events", batch(events...))
	if a.status != 200 {
		c.Fatalf("the batch answers %d: %s", a.status, a.body)
	}
	var got struct {
		Answers []jobs.Answer
		Says    string
	}
	c.must(json.Unmarshal([]byte(a.body), &got))
	for _, r := range got.Answers {
		if (r.Result == jobs.Refused) != (r.Why != "") {
			c.Errorf("answer %+v: a refusal says why, and nothing else does", r)
		}
		results = append(results, r.Result)
	}
	return results, got.Says
}

func (s *site) counted(head int) string {
	return fmt.Sprintf(`{"mob":"%s","services":["drench","weigh"],"head":%d}`, s.booking.Mobs[0].ID, head)
}

func TestBatches(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	first, second := booking.NewID(), booking.NewID()
	for _, step := range []struct {
		name   string
		events []string
		want   []jobs.Result
	}{
		{"new", []string{sent(booking.NewID(), "arrived", ""), sent(first, "counted", s.counted(7))}, []jobs.Result{jobs.Accepted, jobs.Accepted}},
		{"again with one more", []string{sent(first, "counted", s.counted(7)), sent(second, "counted", s.counted(5))}, []jobs.Result{jobs.AlreadyHad, jobs.Accepted}},
		{"twice in one", []string{sent(second, "counted", s.counted(5)), sent(second, "counted", s.counted(5))}, []jobs.Result{jobs.AlreadyHad, jobs.AlreadyHad}},
		{"a bad one among good ones", []string{sent("x", "arrived", ""), sent(booking.NewID(), "note", `{"text":"Gate sticks."}`), sent(booking.NewID(), "danced", "")}, []jobs.Result{jobs.Refused, jobs.Accepted, jobs.Refused}},
		{"a signature before the work", nil, nil},
	} {
		if got, _ := c.answers(step.events...); fmt.Sprint(got) != fmt.Sprint(step.want) {
			t.Errorf("%s: %v, want %v", step.name, got, step.want)
		}
	}
	if got := s.docket().Docket.Head(); got != 12 {
		t.Errorf("%d head, want 12", got)
	}
}

func TestASignatureSignsOff(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	signature := sent(booking.NewID(), "signature", `{"name":"Tamsin Whitlock","seen":240}`)
	c.answers(sent(booking.NewID(), "arrived", ""), sent(booking.NewID(), "counted", s.counted(240)), signature)
	docket := s.docket().Signed
	if docket == "" {
		t.Fatal("the docket is not signed")
	}
	if got, says := c.answers(signature); got[0] != jobs.AlreadyHad || says != "" {
		t.Errorf("sent again: %v %q", got, says)
	}
	late := sent(booking.NewID(), "counted", s.counted(2))
	if got, _ := c.answers(late); got[0] != jobs.Accepted || len(s.docket().Late) != 1 || s.docket().Signed != docket {
		t.Errorf("a late count: %v, late %v", got, s.docket().Late)
	}
}

func TestTheStateNamesWhatItHas(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	id := booking.NewID()
	c.answers(sent(id, "counted", s.counted(3)))
	var got struct {
		Known []booking.ID
		Mobs  []struct{ Worked int }
		Zone  string
	}
	c.must(json.Unmarshal([]byte(c.get("/api"+c.visitPath()).body), &got))
	if len(got.Known) != 1 || got.Known[0] != id || got.Mobs[0].Worked != 3 || got.Zone != "America/New_York" {
		t.Errorf("state %+v", got)
	}
}

func TestBadBatches(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	for name, test := range map[string]struct {
		path, body string
		want       int
	}{
		"no JSON":         {s.visitPath(), "hello", 422},
		"nothing":         {s.visitPath(), "", 422},
		"another shape":   {s.visitPath(), `[{"id":1}]`, 422},
		"not text":        {s.visitPath(), "{\"events\":[\"\xff\"]}", 200},
		"too many":        {s.visitPath(), batch(strings.Split(strings.Repeat("1,", 501)+"1", ",")...), 413},
		"too long":        {s.visitPath(), strings.Repeat(" ", 1<<20+1), 413},
		"unknown visit":   {"/visits/" + string(booking.NewID()), batch(), 404},
		"no visit at all": {"/visits/x", batch(), 404},
	} {
		a := c.json("/api"+test.path+"/events", test.body)
		if a.status != test.want {
			t.Errorf("%s answers %d, want %d: %.200s", name, a.status, test.want, a.body)
		}
		if a.status >= 400 && !strings.Contains(a.body, `"detail"`) {
			t.Errorf("%s is not told what is wrong: %s", name, a.body)
		}
	}
}
