package web

import (
	"context"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/booking/store"
	"drawbar/web/webtest"
)

// The way in, in a real browser: the pages around every other page.
func TestTheWayInForEyesHandsAndReaders(t *testing.T) {
	s := newSite(t, "")
	server := httptest.NewServer(s.handler)
	t.Cleanup(server.Close)
	browser := webtest.Start(t)
	for name, view := range map[string]webtest.View{"desktop": webtest.Desktop, "phone": webtest.Phone} {
		t.Run(name, func(t *testing.T) { wayIn(t, s, server.URL, browser.Page(view), name) })
	}
}

func wayIn(t *testing.T, s *site, address string, page *webtest.Page, name string) {
	page.Expect("422") // a refused form is an answer, which the browser's console calls an error
	page.Expect("404")
	page.Expect("410")
	rows := store.New(s.db, time.Now, nil)
	ann := sample.Person(booking.Owner)
	ann.Name = "Ann-Kathrin Featherstonehaugh-Wolstenholme"
	if err := rows.SavePerson(context.Background(), &ann); err != nil {
		t.Fatal(err)
	}
	desk := booking.Desk{Store: rows, Now: time.Now, Site: address}
	link, err := desk.SignInLink(context.Background(), ann)
	if err != nil {
		t.Fatal(err)
	}

	page.Go(address + "/account")
	page.InBothThemes(name + "-sign-in")
	page.Fill("Mail address", "ann@coverdale.example")
	page.Fill("Password", "not my password")
	if status := page.Follow("button", "Sign in"); status != 422 {
		t.Errorf("a wrong password answers %d", status)
	}
	if !webtest.Eval[bool](page, `document.activeElement.matches(".errors")`) {
		t.Error("the keyboard does not start at what is wrong")
	}
	page.InBothThemes(name + "-sign-in-refused")
	page.Follow("button", "Mail me a link")
	page.WaitText("a link is on its way")
	page.InBothThemes(name + "-mailed")

	page.Go(address + "/nothing")
	page.InBothThemes(name + "-nothing")

	page.Go(link)
	page.InBothThemes(name + "-link")
	page.Follow("button", "Sign in as "+ann.Name)
	page.Go(address + "/account")
	page.WaitText(ann.Name)
	page.InBothThemes(name + "-account")
	page.Fill("New password", "short")
	page.Follow("button", "Set password")
	page.WaitText("Use 10 to 200 characters")
	page.InBothThemes(name + "-account-refused")

	if status := page.Go(link); status != 410 {
		t.Errorf("a used link answers %d", status)
	}
	page.InBothThemes(name + "-used")
	bigEnough(t, page)
}

// Targets are at least 44 pixels high or wide (the program's own rule; WCAG
// 2.2, success criterion 2.5.8 asks for 24), but for links inside a sentence.
func bigEnough(t *testing.T, page *webtest.Page) {
	t.Helper()
	small := webtest.Eval[[]string](page, `[...document.querySelectorAll("button, .button, nav a, input:not([type=hidden])")]
		.filter(e => e.offsetParent && e.getBoundingClientRect().height < 44).map(e => e.textContent || e.name)`)
	if len(small) > 0 {
		t.Errorf("too small to hit: %s", strings.Join(small, ", "))
	}
}
