package phone_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"

	"github.com/PuerkitoBio/goquery"
)

// signed is a visit with a signed docket: 240 ewes, one treatment.
func (s *site) signed() booking.ID {
	s.Helper()
	treatment := `{"mob":"` + string(s.booking.Mobs[0].ID) + `","head":240,"product":"Example drench","batch":"B-0417","expiry":"2099-01-31","dose":"17.5","unit":"mL","route":"by mouth","given":"2026-03-25","meatDays":11}`
	s.signIn(booking.Operator).answers(
		sent(booking.NewID(), "arrived", ""), sent(booking.NewID(), "counted", s.counted(240)), sent(booking.NewID(), "treatment", treatment),
		sent(booking.NewID(), "signature", `{"name":"Tamsin Whitlock","drawing":"M10,20 L30,40","seen":240}`))
	return s.docket().Signed
}

func TestDocketPage(t *testing.T) {
	s := newSite(t)
	id := s.signed()
	office := s.signIn(booking.Office)
	if list := office.page("/dockets"); list.Find(`a[href="/dockets/`+string(id)+`"]`).Length() != 1 {
		t.Error("the docket is not in the list")
	}
	page := office.page("/dockets/" + string(id))
	text := strings.Join(strings.Fields(page.Find("main").Text()), " ")
	// 17.5 mL × 240 = 4200 mL; 25 March and 11 days end on 5 April.
	for _, words := range []string{s.farm.Name, s.rig.Name, "Example drench", "batch B-0417", "4200 mL in all", "Sun 5 April 2026", "five years", "Follow the label and your vet", "Tamsin Whitlock", "SHA-256"} {
		if !strings.Contains(text, words) {
			t.Errorf("the docket does not say %q", words)
		}
	}
	if d, _ := page.Find("svg.sign path").Attr("d"); d != "M10,20 L30,40" {
		t.Errorf("the signature is %q", d)
	}
}

func TestCorrectingADocket(t *testing.T) {
	s := newSite(t)
	id := s.signed()
	office := s.signIn(booking.Office)
	path := "/dockets/" + string(id)
	heads := []string{"head.0", "238", "head.1", "240"}
	for name, fields := range map[string][]string{
		"without a reason": append([]string{"reason", ""}, heads...),
		"with no change":   {"head.0", "240", "head.1", "240", "reason", "Just so."},
		"with words":       {"head.0", "many", "head.1", "240", "reason", "Miscounted."},
		"below zero":       {"head.0", "-1", "head.1", "240", "reason", "Miscounted."},
		"overlong":         append([]string{"reason", strings.Repeat("x", 501)}, heads...),
		"not text":         append([]string{"reason", "\xff"}, heads...),
	} {
		if a := office.form(path+"/correct", fields...); a.status != http.StatusUnprocessableEntity {
			t.Errorf("correcting %s answers %d", name, a.status)
		}
	}
	a := office.form(path+"/correct", append([]string{"reason", "Two were counted twice."}, heads...)...)
	if a.status != http.StatusSeeOther {
		t.Fatalf("correcting answers %d: %s", a.status, a.body)
	}
	if text := office.page(a.to).Find("main").Text(); !strings.Contains(text, "Two were counted twice.") || !strings.Contains(text, "238") {
		t.Errorf("the correction says %s", text)
	}
	added := office.form(a.to+"/correct", "reason", "The scan was left out.", "mob", string(s.booking.Mobs[0].ID), "service", "scan", "more", "12", "head.0", "238", "head.1", "240")
	if added.status != http.StatusSeeOther {
		t.Fatalf("adding a line answers %d: %s", added.status, added.body)
	}
	rows := office.page(added.to).Find("table").First().Find("tr").Map(func(_ int, row *goquery.Selection) string {
		return strings.Join(row.Find("td").Map(func(_ int, cell *goquery.Selection) string { return cell.Text() }), " ")
	})
	if !slices.Contains(rows, "ewes Scan  12") {
		t.Errorf("the added line is not there: %q", rows)
	}
	old := office.page(path)
	if old.Find(`a[href="`+a.to+`"]`).Length() != 1 || old.Find("form[action$=correct]").Length() != 0 {
		t.Error("the old docket does not lead to the one that stands, or can be corrected again")
	}
	if again := office.form(path+"/correct", append([]string{"reason", "Once more."}, heads...)...); again.status != http.StatusConflict {
		t.Errorf("correcting it again answers %d", again.status)
	}
}

func TestLateEventsAreShownAndTakenIn(t *testing.T) {
	s := newSite(t)
	id := s.signed()
	s.signIn(booking.Operator).answers(sent(booking.NewID(), "counted", s.counted(7)))
	office := s.signIn(booking.Office)
	if text := office.page("/dockets").Find(".warn").Text(); !strings.Contains(text, "Arrived after signing") {
		t.Errorf("the list says %q", text)
	}
	page := office.page("/dockets/" + string(id))
	if text := page.Find(".warn").Text(); !strings.Contains(text, "7 ewes counted") {
		t.Errorf("the docket says %q", text)
	}
	a := office.form("/dockets/"+string(id)+"/correct", "head.0", "240", "head.1", "240", "late", "on", "reason", "The second phone had no signal.")
	if a.status != http.StatusSeeOther {
		t.Fatalf("taking in answers %d: %s", a.status, a.body)
	}
	if text := office.page("/dockets").Find(".warn").Text(); strings.Contains(text, "Arrived after signing") {
		t.Error("the list still says so")
	}
	if text := office.page(a.to).Find("main").Text(); !strings.Contains(text, "247") {
		t.Error("the late ones are not counted")
	}
}

func TestUnknownDockets(t *testing.T) {
	s := newSite(t)
	office := s.signIn(booking.Owner)
	for _, path := range []string{"/dockets/" + string(booking.NewID()), "/dockets/7"} {
		if a := office.get(path); a.status != http.StatusNotFound {
			t.Errorf("%s answers %d", path, a.status)
		}
	}
	if a := office.form("/dockets/"+string(booking.NewID())+"/correct", "reason", "x"); a.status != http.StatusNotFound {
		t.Errorf("correcting nothing answers %d", a.status)
	}
	if a := office.get("/dockets?from=soon&to=%ff"); a.status != http.StatusOK {
		t.Errorf("a list of no days answers %d", a.status)
	}
}

// A docket whose time fits nothing else known says so, in the list and on its
// page, until a correction takes its place.
func TestOddTimeIsShown(t *testing.T) {
	s := newSite(t)
	id := s.signed()
	office := s.signIn(booking.Office)
	odd := func() (list, page bool) {
		text := func(path string) string { return office.page(path).Find("main").Text() }
		return strings.Contains(text("/dockets"), "odd time"), strings.Contains(text("/dockets/"+string(id)), "Was the clock left running?")
	}
	if list, page := odd(); list || page {
		t.Error("the docket is called odd before anything was learned")
	}
	m := booking.PaceModel{Learned: &pace.Learned{}, Looks: []booking.Look{{Docket: id, Sentence: "Was the clock left running?"}}}
	if err := s.store.KeepPaceModel(t.Context(), &m); err != nil {
		t.Fatal(err)
	}
	if list, page := odd(); !list || !page {
		t.Errorf("called odd in the list: %v, on its page: %v", list, page)
	}
}
