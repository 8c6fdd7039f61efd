package phone_test

import (
	"context"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/web/webtest"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// phone is a signed-in operator's phone.
func (s *site) phone(b *webtest.Browser) *webtest.Page {
	s.Helper()
	p := b.Page(webtest.Phone)
	p.Go(s.door(booking.Operator))
	p.Follow("button", "Sign in as "+s.people[booking.Operator].Name)
	return p
}

// desk is the office's screen.
func (s *site) desk(b *webtest.Browser) *webtest.Page {
	s.Helper()
	p := b.Page(webtest.Desktop)
	p.Go(s.door(booking.Office))
	p.Follow("button", "Sign in as "+s.people[booking.Office].Name)
	return p
}

// begin opens the visit and starts work on it.
func begin(p *webtest.Page) {
	p.Follow("link", "Open visit")
	start(p)
}

// start goes through the steps up to the counting and waits until they are
// sent.
func start(p *webtest.Page) {
	for _, step := range []string{"We have arrived", "Set up and ready", "Start work"} {
		p.Click("button", step)
	}
	p.WaitText("Pause")
	p.WaitText("all sent")
}

// What a phone may lose the connection for.
const (
	everything = ""
	sending    = "*://*:*/api/*" // pages still load
)

// cut takes the connection away for addresses of a pattern; restore gives it
// back.
func cut(p *webtest.Page, pattern string) {
	conditions(p, &network.Conditions{URLPattern: pattern, Offline: true, DownloadThroughput: -1, UploadThroughput: -1})
}

func restore(p *webtest.Page) { conditions(p) }

func conditions(p *webtest.Page, rules ...*network.Conditions) {
	p.Do("changing the connection", chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: append([]*network.Conditions{}, rules...)})
		return err
	}))
}

// TestCountingWithoutSignal is the promise of the phone: with the connection
// cut nothing counted is lost, and what is sent again counts nothing twice.
func TestCountingWithoutSignal(t *testing.T) {
	s := newSite(t)
	p := s.phone(webtest.Start(t))
	p.Expect("ERR_INTERNET_DISCONNECTED")
	p.WaitText(s.farm.Name)
	p.Screenshot("phone-today")
	p.Axe()
	p.Follow("link", "Open visit")
	p.Screenshot("phone-arrive")
	p.Axe()
	start(p)

	cut(p, everything)
	for range 3 {
		p.Click("button", "+ 1")
	}
	p.Click("button", "+ 10")
	p.Click("button", "Left gate")
	p.Click("button", "Undo")
	p.WaitText("13 of 240")
	p.WaitText("no signal: 6 waiting since")
	p.WaitText("Done about ") // worked out here, from what was counted here
	p.WaitText(" head an hour")
	p.Screenshot("phone-no-signal")
	p.Axe()

	cut(p, sending) // the page may load again, what was recorded may not leave
	p.Reload()
	p.WaitText("13 of 240")
	p.WaitText("6 waiting since")
	if got := s.docket().Docket.Head(); got != 0 {
		t.Fatalf("%d head arrived through a blocked line", got)
	}
	restore(p)
	p.Click("button", "+ 1")
	p.WaitText("all sent")
	p.WaitText("14 of 240")
	p.Reload()
	p.WaitText("14 of 240")
	p.WaitText("all sent")
	if got := s.docket().Docket.Head(); got != 14 {
		t.Errorf("the server has %d head, the phone showed 14", got)
	}
	events, err := s.jobs.Events(t.Context(), s.visit.ID)
	s.must(err)
	if len(events) != 10 { // three steps, three + 1, + 10, left gate, its undo, one more
		t.Errorf("%d events, want 10", len(events))
	}
}

// TestAnswerLost: the server stores what was sent and the answer gets lost on
// the way; the phone sends again and nothing counts twice.
func TestAnswerLost(t *testing.T) {
	s := newSite(t)
	p := s.phone(webtest.Start(t))
	begin(p)
	webtest.Eval[bool](p, `(() => {
		const real = window.fetch;
		let lost = 0;
		window.fetch = async (...args) => {
			const answer = await real(...args);
			if (String(args[0]).endsWith("/events") && lost++ < 2) throw new TypeError("the answer got lost");
			return answer;
		};
		return true;
	})()`)
	p.Click("button", "+ 10")
	p.WaitText("10 of 240")
	p.WaitText("all sent")
	p.Reload()
	p.WaitText("10 of 240")
	if got := s.docket().Docket.Head(); got != 10 {
		t.Errorf("the server has %d head, want 10", got)
	}
}

// stroke draws on the pad as a finger does.
func stroke(p *webtest.Page) {
	webtest.Eval[bool](p, `(() => {
		const pad = document.getElementById("pad"), box = pad.getBoundingClientRect();
		pad.setPointerCapture = () => {};
		const touch = (type, x, y) => pad.dispatchEvent(new PointerEvent(type, {pointerId: 1, bubbles: true, cancelable: true, clientX: box.x + box.width * x, clientY: box.y + box.height * y}));
		touch("pointerdown", 0.1, 0.5);
		for (let i = 1; i <= 10; i++) touch("pointermove", 0.1 + i * 0.06, 0.5 - 0.3 * Math.sin(i));
		touch("pointerup", 0.7, 0.5);
		return true;
	})()`)
}

// TestWholeVisitOnThePhone goes from the round to the signature.
func TestWholeVisitOnThePhone(t *testing.T) {
	s, b := newSite(t), webtest.Start(t)
	p := s.phone(b)
	begin(p)
	for range 23 {
		p.Click("button", "+ 10")
	}
	p.WaitText("230 of 240")
	p.Screenshot("phone-work")
	p.Click("DisclosureTriangle", "Treatment")
	p.Fill("Head treated", "230")
	p.Fill("Product, as on the label", "Example drench")
	p.Fill("Batch", "B-0417")
	p.Fill("Expiry", s.today.AddDays(200).String())
	p.Fill("Dose a head", "17,5")
	p.Fill("Withdrawal for meat, days", "11")
	p.Screenshot("phone-treatment")
	p.Axe()
	p.Click("button", "Record the treatment")
	p.WaitText("Recorded.")
	p.Click("button", "Pause")
	p.WaitText("Paused")
	p.WaitText(" left")
	p.Screenshot("phone-pause")
	p.Axe()
	p.Click("button", "Go on")
	p.WaitGone("Paused")
	p.Click("button", "Finish")
	p.WaitText("240 ewes booked, 230 worked: 10 not accounted for.")
	p.Screenshot("phone-sign")
	p.Axe()
	p.Fill("Name of whoever signs for the farm", "Tamsin Whitlock")
	stroke(p)
	p.Click("button", "Sign the docket")
	p.WaitText("The docket is signed and kept.")
	p.Click("button", "Packed down")
	p.Click("button", "We are leaving")
	p.WaitText("all sent")
	p.Screenshot("phone-gone")
	p.Axe()

	docket, err := s.jobs.SignedDocket(t.Context(), s.docket().Signed)
	s.must(err)
	office := s.desk(b)
	office.Go(s.server.URL + "/dockets/" + string(docket.ID))
	office.WaitText("Treatments, for the medicine book")
	office.Screenshot("docket")
	office.Axe()
	office.Go(s.server.URL + "/dockets")
	office.Screenshot("dockets")
	office.Axe()
	if drawn := docket.Docket.Signature.Drawing; !strings.HasPrefix(drawn, "M60,100 L60,100 L") || strings.Count(drawn, "L") != 11 {
		t.Errorf("the signature is %q: want a stroke from 10 %% of 600 and half of 200", drawn)
	}
	if docket.Head() != 230 || len(docket.Docket.Treatments) != 1 || docket.Docket.Treatments[0].Dose.String() != "17.5" {
		t.Errorf("signed with %d head and treatments %+v", docket.Head(), docket.Docket.Treatments)
	}
	open := s.docket()
	if len(open.Late) != 0 || open.Docket.Left.IsZero() {
		t.Errorf("late events %v, left %v", open.Late, open.Docket.Left)
	}
	if !strings.Contains(strings.Join(docket.Doubts, " "), "10 not accounted for") {
		t.Errorf("the docket says nothing of the ten: %q", docket.Doubts)
	}
}

// TestWhatWasLeftBehindIsSentFromTheRound: a visit is left with things that
// wait; the round sends them. A mob nobody booked is added and counted
// without signal.
func TestWhatWasLeftBehindIsSentFromTheRound(t *testing.T) {
	s := newSite(t)
	p := s.phone(webtest.Start(t))
	p.Expect("ERR_INTERNET_DISCONNECTED")
	begin(p)
	cut(p, sending)
	p.Click("DisclosureTriangle", "Animals nobody booked")
	p.Fill("What they are", "rams")
	p.Click("button", "Add this mob")
	p.WaitText("Rams")
	p.Click("button", "+ 1") // of the card that opened
	p.WaitText("1 of 240")
	p.Screenshot("phone-added")
	p.Axe()
	p.Follow("link", "Back to the round")
	p.WaitText("no signal: 2 waiting since")
	restore(p)
	p.Reload()
	p.WaitText("all sent")
	docket := s.docket().Docket
	if len(docket.Added) != 1 || docket.MobHead(docket.Added[0].Mob) != 1 {
		t.Errorf("added %+v, tallies %+v", docket.Added, docket.Tallies)
	}
	p.Follow("link", "Open visit")
	p.WaitText("Rams")
	p.WaitText("1 of 240")
}

// TestARefusalIsShown: what the server will not take stays on the phone with
// the reason until it is put away, and holds nothing up.
func TestARefusalIsShown(t *testing.T) {
	s := newSite(t)
	p := s.phone(webtest.Start(t))
	begin(p)
	p.Click("DisclosureTriangle", "Treatment")
	for label, value := range map[string]string{
		"Head treated": "12", "Product, as on the label": "Example drench", "Batch": "B-1", "Expiry": "2099-01-31", "Dose a head": "200000", "Withdrawal for meat, days": "11",
	} {
		p.Fill(label, value)
	}
	p.Click("button", "Record the treatment")
	p.WaitText("treatment: Give the dose a head as a number above 0")
	p.Click("button", "+ 1")
	p.WaitText("1 of 240")
	p.WaitText("1 refused")
	p.Screenshot("phone-refused")
	p.Axe()
	p.Click("button", "Put these away")
	p.WaitText("all sent")
	if d := s.docket().Docket; d.Head() != 1 || len(d.Treatments) != 0 {
		t.Errorf("%d head and treatments %+v", d.Head(), d.Treatments)
	}
}
