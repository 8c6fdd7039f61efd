package phone_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/jobs"

	"github.com/PuerkitoBio/goquery"
)

func TestRoundOfToday(t *testing.T) {
	s := newSite(t)
	page := s.signIn(booking.Operator).page("/today")
	text := page.Find("main").Text()
	for _, words := range []string{"Today", s.farm.Name, "8:00", "240 ewes", s.yard.Access, "estimate", "Ring in on arrival"} {
		if !strings.Contains(text, words) {
			t.Errorf("the round does not say %q", words)
		}
	}
	for selector, want := range map[string]string{
		`a[href^="tel:"]`: "tel:3025550102", `a[href^="geo:"]`: "geo:38.91,-75.55", `a[href^="/visits/"]`: s.visitPath(),
	} {
		if got, _ := page.Find(selector).Attr("href"); got != want {
			t.Errorf("%s leads to %q, want %q", selector, got, want)
		}
	}
}

func TestOtherDaysAndRigs(t *testing.T) {
	s := newSite(t)
	other := s.rig
	other.ID, other.Name, other.Crew, other.Version = booking.NewID(), "Spare rig", nil, 0
	s.must(s.store.SaveRig(t.Context(), &other))
	c := s.signIn(booking.Operator)
	for path, want := range map[string]string{
		"/today?day=" + s.today.AddDays(1).String():          "Nothing placed for " + s.rig.Name,
		"/today?day=" + s.today.String():                     s.farm.Name,
		"/today?rig=" + string(other.ID):                     "Nothing placed for Spare rig",
		"/today?rig=nonsense&day=nonsense":                   s.farm.Name,
		"/today?rig=" + string(booking.NewID()) + "&day=%ff": s.farm.Name,
	} {
		if text := c.page(path).Find("main").Text(); !strings.Contains(text, want) {
			t.Errorf("%s does not say %q: %s", path, want, strings.Join(strings.Fields(text), " "))
		}
	}
}

// hidden is the value of a form's hidden field.
func hidden(t *testing.T, form *goquery.Selection, name string) string {
	t.Helper()
	value, ok := form.Find(`input[name="` + name + `"]`).Attr("value")
	if !ok {
		t.Fatalf("the form has no field %s", name)
	}
	return value
}

// press sends the plain form behind a button of the visit's page, as a phone
// without a script does, and gives the fields that it sent.
func (c *client) press(label string, extra ...string) []string {
	c.Helper()
	button := c.page(c.visitPath()).Find("button").FilterFunction(func(_ int, b *goquery.Selection) bool {
		hiddenStep := b.Closest("[data-step]").Is("[hidden]")
		return strings.Join(strings.Fields(b.Text()), " ") == label && !hiddenStep && b.Closest("template").Length() == 0
	}).First()
	if button.Length() == 0 {
		c.Fatalf("there is no button %q", label)
	}
	var fields []string
	button.Closest("form").Find("input[type=hidden], input[checked]").Each(func(_ int, in *goquery.Selection) {
		fields = append(fields, in.AttrOr("name", ""), in.AttrOr("value", ""))
	})
	if name, ok := button.Attr("name"); ok {
		fields = append(fields, name, button.AttrOr("value", ""))
	}
	fields = append(fields, extra...)
	if a := c.form(c.visitPath()+"/record", fields...); a.status != http.StatusSeeOther || a.to != c.visitPath() {
		c.Fatalf("%s answers %d, to %q: %s", label, a.status, a.to, a.body)
	}
	return fields
}

// TestVisitWithoutAScript goes through a visit by plain forms alone.
func TestVisitWithoutAScript(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	c.press("We have arrived")
	c.press("Set up and ready")
	c.press("Start work")
	c.press("+ 10")
	c.press("+ 1")
	c.press("Left gate 0")
	if got := s.docket().Docket; got.Head() != 12 || got.ThroughGate(s.booking.Mobs[0].ID, jobs.LeftGate) != 1 {
		t.Fatalf("%d head, %+v", got.Head(), got.Tallies)
	}
	c.press("Undo the last count") // the gate
	c.press("Undo the last count") // the one
	c.press("− 1")
	if got := s.docket().Docket.Head(); got != 9 {
		t.Fatalf("%d head after taking back, want 9", got)
	}
	mob := string(s.booking.Mobs[0].ID)
	c.press("Keep the note", "text", "Gate sticks.")
	c.press("Keep it", "people", "2", "pusher", "on")
	c.press("Record it", "mob", mob, "head", "1", "text", "Jumped out.")
	c.press("Record the treatment", "mob", mob, "head", "9", "product", "Example drench", "batch", "B-1", "expiry", "2099-01-31",
		"dose", "17.5", "unit", "mL", "route", "by mouth", "given", s.today.String(), "meatDays", "11")
	if says := c.page(c.visitPath()).Find("#pace").Text(); !strings.HasPrefix(says, "Done about ") {
		t.Errorf("while counting it says %q", says)
	}
	c.press("Pause")
	if says := c.page(c.visitPath()).Find("#pace").Text(); !strings.HasSuffix(says, " left") {
		t.Errorf("paused it says %q", says)
	}
	c.press("Go on")
	c.press("Finish")
	page := c.page(c.visitPath())
	if doubts := page.Find("#doubts").Text(); !strings.Contains(doubts, "240 ewes booked, 9 worked, 1 lost to the count by an incident: 230 not accounted for.") {
		t.Errorf("the summary says %q", doubts)
	}
	c.press("Sign the docket", "name", "Tamsin Whitlock")
	c.press("Packed down")
	c.press("We are leaving")
	open := s.docket()
	docket, err := s.jobs.SignedDocket(t.Context(), open.Signed)
	s.must(err)
	if docket.Head() != 9 || len(docket.Docket.Treatments) != 1 || len(docket.Docket.Notes) != 1 || docket.Docket.Hands == nil || *docket.Docket.Hands != (jobs.Hands{People: 2, Pusher: true}) || docket.Docket.Signature.Name != "Tamsin Whitlock" {
		t.Errorf("docket %+v", docket)
	}
	if v, err := s.store.Visit(t.Context(), s.visit.ID); err != nil || v.State != booking.SignedOff || open.Docket.Left.IsZero() {
		t.Errorf("the visit is %s (%v), left %v", v.State, err, open.Docket.Left)
	}
	if text := page.Find(".soft").Text(); !strings.Contains(text, "Follow the label and your vet") || !strings.Contains(text, "Bleed the air") {
		t.Error("the cautions are missing")
	}
}

func TestADoubleSubmitCountsOnce(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	c.press("We have arrived")
	c.press("Set up and ready")
	c.press("Start work")
	fields := c.press("+ 10")
	for range 3 {
		if a := c.form(c.visitPath()+"/record", fields...); a.status != http.StatusSeeOther {
			t.Fatalf("sending it again answers %d", a.status)
		}
	}
	if got := s.docket().Docket.Head(); got != 10 {
		t.Errorf("%d head, want 10", got)
	}
}

func TestAddedMobIsCounted(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	for _, step := range []string{"We have arrived", "Set up and ready", "Start work"} {
		c.press(step)
	}
	c.press("Add this mob", "class", "ram")
	cards := c.page(c.visitPath()).Find("#cards [data-card]")
	if cards.Length() != 2 || strings.TrimSpace(cards.Last().Find(".mob-name").Text()) != "rams" {
		t.Fatalf("%d cards: %s", cards.Length(), cards.Text())
	}
	mob := hidden(t, cards.Last().Find("form"), "mob")
	if a := c.form(c.visitPath()+"/record", "id", string(booking.NewID()), "kind", "counted", "mob", mob, "services", "drench", "head", "3"); a.status != http.StatusSeeOther {
		t.Fatalf("counting answers %d", a.status)
	}
	if got := s.docket().Docket.MobHead(booking.ID(mob)); got != 3 {
		t.Errorf("%d rams, want 3", got)
	}
}

func TestBadEntriesKeepWhatWasTyped(t *testing.T) {
	s := newSite(t)
	c := s.signIn(booking.Operator)
	for _, step := range []string{"We have arrived", "Set up and ready", "Start work"} {
		c.press(step)
	}
	mob, id := string(s.booking.Mobs[0].ID), string(booking.NewID())
	treatment := []string{"id", id, "kind", "treatment", "mob", mob, "head", "12", "product", "Example drench", "batch", "B-1", "expiry", "2099-01-31",
		"dose", "17.5", "unit", "mL", "route", "by mouth", "given", s.today.String(), "meatDays", "11"}
	for _, bad := range []struct{ field, value, says string }{
		{"dose", "a lot", "Give the dose a head as a number above 0"},
		{"dose", "-1", "Give the dose a head as a number above 0"},
		{"head", "twelve", "whole number"},
		{"head", "0", "Give a number from 1"},
		{"product", "", "Please fill this in."},
		{"product", strings.Repeat("x", 121), "keep this to 120 characters"},
		{"product", "\xff\xfe", "characters we cannot read"},
		{"unit", "bushel", "Choose the unit"},
		{"route", "by post", "Choose how it was given"},
		{"expiry", "soon", "Give a day as year, month and day"},
		{"meatDays", "-3", "Give a number from 0"},
		{"mob", "nonsense", "Choose one from the list."},
		{"id", "seven", "Choose one from the list."},
		{"kind", "danced", "does not know events of this kind"},
	} {
		fields := append([]string{}, treatment...)
		for i := 0; i < len(fields); i += 2 {
			if fields[i] == bad.field {
				fields[i+1] = bad.value
			}
		}
		a := c.form(c.visitPath()+"/record", fields...)
		if a.status != http.StatusUnprocessableEntity || !strings.Contains(a.body, bad.says) {
			t.Errorf("%s %.20q answers %d and does not say %q", bad.field, bad.value, a.status, bad.says)
		}
		if bad.field != "product" && !strings.Contains(a.body, `value="Example drench"`) {
			t.Errorf("%s %.20q: what was typed is gone", bad.field, bad.value)
		}
	}
	if got := len(s.docket().Docket.Treatments); got != 0 {
		t.Errorf("%d treatments were kept", got)
	}
}

func TestUnknownVisitsAndStrangers(t *testing.T) {
	s := newSite(t)
	operator, nobody := s.signIn(booking.Operator), &client{s, &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}}
	nowhere := "/visits/" + string(booking.NewID())
	for _, c := range []struct {
		who    *client
		method string
		path   string
		want   int
	}{
		{operator, "GET", nowhere, 404}, {operator, "GET", "/visits/7", 404}, {operator, "POST", nowhere + "/record", 404}, {operator, "GET", "/api" + nowhere, 404},
		{operator, "GET", "/dockets", 403}, {operator, "GET", "/dockets/" + string(booking.NewID()), 403},
		{nobody, "GET", "/today", 303}, {nobody, "GET", s.visitPath(), 303}, {nobody, "POST", s.visitPath() + "/record", 303}, {nobody, "GET", "/api" + s.visitPath(), 401}, {nobody, "POST", "/api" + s.visitPath() + "/events", 401},
	} {
		if a := c.who.do(c.method, c.path, "", ""); a.status != c.want {
			t.Errorf("%s %s answers %d, want %d", c.method, c.path, a.status, c.want)
		}
	}
}
