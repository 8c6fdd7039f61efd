package office_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/web/sitetest"
)

// entry is a text field of one of the forms.
type entry struct {
	path  string // of the page and of its form
	field string
	most  int // characters it takes
}

// entries has a field of each form that changes something, and of each that
// adds something.
func entries(s *sitetest.Site) (changing, adding []entry) {
	farm := "/farms/" + string(s.Farm.ID)
	own := booking.BaseTime{Prior: pace.Prior{Code: pace.Drench, Seconds: 12, CV: 0.3, Origin: pace.Own, Date: "2026-03-09"}}
	s.Must(s.Store.SaveBaseTime(s.T.Context(), &own))
	changing = []entry{
		{"/settings", "phone", 40}, {"/settings/people/" + string(s.People[booking.Operator].ID), "phone", 40}, {"/settings/rigs/" + string(s.Rig.ID), "name", 60},
		{"/settings/services/drench", "advice", 400}, {"/settings/times/drench/all", "source", 300}, {farm, "notes", 2000}, {farm + "/yards/" + string(s.Yard.ID), "access", 1000},
	}
	return changing, []entry{
		{"/settings/people/new", "name", 120}, {"/settings/rigs/new", "name", 60}, {"/farms/new", "name", 120}, {farm + "/yards/new", "name", 120},
	}
}

// What is not text is refused at its field, and nothing is stored: bytes that
// RFC 3629 section 3 forbids (a lone lead byte, an overlong slash, half a
// surrogate pair), control characters, and more than a field takes, counted
// in characters.
func TestFormsRefuseWhatIsNoText(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	changing, adding := entries(s)
	before := records(s)
	for _, e := range append(changing, adding...) {
		for typed, sentence := range map[string]string{
			"caf\xe9": "cannot read", "\xc0\xaf": "cannot read", "\xed\xa0\x80": "cannot read", "a\x00b": "cannot read", "a\x1b[31m": "cannot read",
			strings.Repeat("羊", e.most+1): "Please keep this to", strings.Repeat("x", 30_000): "Please keep this",
		} {
			a := owner.Post(e.path, owner.Get(e.path).With(e.path, e.field, typed)...)
			if a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Error(e.field), sentence) {
				t.Errorf("%s %s=%.20q answers %d with %q", e.path, e.field, typed, a.Status, a.Error(e.field))
			}
		}
	}
	for _, e := range changing {
		saved(t, owner, e.path, e.path, e.field, strings.Repeat("羊", e.most))
	}
	if got := records(s) - before; got != len(changing) {
		t.Errorf("%d changes are recorded, want %d", got, len(changing))
	}
}

// records counts the changes made so far.
func records(s *sitetest.Site) int {
	s.T.Helper()
	changes, err := s.Store.Changes(s.T.Context(), booking.ChangeQuery{Limit: 500})
	s.Must(err)
	return len(changes)
}

// Of two who change the same thing the later one is told what the other
// entered, keeps what was typed, and can save again.
func TestStaleSaves(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	changing, _ := entries(s)
	for _, e := range changing {
		old := owner.Get(e.path).With(e.path, e.field, "mine")
		saved(t, owner, e.path, e.path, e.field, "theirs")
		a := owner.Post(e.path, old...)
		if a.Status != http.StatusConflict || !a.Says("Somebody else changed this") || a.Typed(e.field) != "mine" || a.Error(e.field) != "On file now: “theirs”." {
			t.Errorf("%s: a stale save answers %d, typed %q, with %q", e.path, a.Status, a.Typed(e.field), a.Error(e.field))
			continue
		}
		if n := a.Page.Find("main .error").Length(); n != 1 {
			t.Errorf("%s: %d fields are said to differ, want 1", e.path, n)
		}
		if got := owner.Get(e.path).Typed(e.field); got != "theirs" {
			t.Errorf("%s: the stale save stored %q", e.path, got)
		}
		if a := owner.Post(e.path, a.With(e.path)...); a.Status != http.StatusSeeOther {
			t.Errorf("%s: saving again answers %d", e.path, a.Status)
		}
		if got := owner.Get(e.path).Typed(e.field); got != "mine" {
			t.Errorf("%s: saving again stored %q", e.path, got)
		}
	}
}

// A form without its version, or with an odd one, stores nothing.
func TestFormsWantTheirVersion(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	changing, adding := entries(s)
	before := records(s)
	for _, e := range changing {
		for _, version := range []string{"", "0", "-1", "99", "99999999999999999999", "one"} {
			if a := owner.Post(e.path, owner.Get(e.path).With(e.path, "version", version)...); a.Status != http.StatusConflict {
				t.Errorf("%s at version %q answers %d", e.path, version, a.Status)
			}
		}
	}
	for _, e := range adding {
		a := owner.Post(e.path, owner.Get(e.path).With(e.path, "version", "3", "name", "New", "email", "new@example.com", "lat", "38.9", "lon", "-75.5")...)
		if a.Status != http.StatusNotFound {
			t.Errorf("%s at version 3 answers %d", e.path, a.Status)
		}
	}
	if got := records(s); got != before {
		t.Errorf("%d changes are recorded", got-before)
	}
}

// Forms are closed to whoever may not see their page (RFC 9110 section
// 15.5.4), and nothing is stored.
func TestFormsAreClosedToOthers(t *testing.T) {
	s := sitetest.New(t)
	operator, office, nobody := s.As(booking.Operator), s.As(booking.Office), s.Anybody()
	changing, adding := entries(s)
	before := records(s)
	all := append(changing, adding...)
	all = append(all, entry{path: "/settings/people/" + string(s.People[booking.Operator].ID) + "/link"}, entry{path: "/settings/people/" + string(s.People[booking.Operator].ID) + "/away"},
		entry{path: "/settings/people/" + string(s.People[booking.Operator].ID) + "/back"}, entry{path: "/settings/rigs/" + string(s.Rig.ID) + "/off"}, entry{path: "/settings/rigs/" + string(s.Rig.ID) + "/out"})
	for _, e := range all {
		if a := operator.Post(e.path, "name", "x"); a.Status != http.StatusForbidden {
			t.Errorf("%s as operator answers %d", e.path, a.Status)
		}
		if a := nobody.Post(e.path, "name", "x"); a.Status != http.StatusSeeOther || !strings.HasPrefix(a.To, "/sign-in") {
			t.Errorf("%s as nobody answers %d", e.path, a.Status)
		}
		mine := e.path == "/settings" || strings.HasPrefix(e.path, "/settings/people/")
		if a := office.Post(e.path); mine != (a.Status == http.StatusForbidden) {
			t.Errorf("%s as office answers %d", e.path, a.Status)
		}
	}
	if got := records(s); got != before {
		t.Errorf("%d changes are recorded", got-before)
	}
}

// What is not there answers 404 (RFC 9110 section 15.5.5) to looking and to
// saving.
func TestUnknownIDs(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	farm := "/farms/" + string(s.Farm.ID)
	for _, path := range []string{"/settings/people/", "/settings/rigs/", "/settings/services/", "/farms/", farm + "/yards/"} {
		for _, id := range []string{string(booking.NewID()), "nonsense", "%00", "%ff%fe", strings.Repeat("x", 300)} {
			if a := owner.Get(path + id); a.Status != http.StatusNotFound {
				t.Errorf("%s%.40s answers %d", path, id, a.Status)
			}
			if a := owner.Post(path+id, "name", "x"); a.Status != http.StatusNotFound {
				t.Errorf("saving %s%.40s answers %d", path, id, a.Status)
			}
		}
	}
}

// An invoice that is not there is 404; what is no month cannot be read as one.
func TestUnknownMoney(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	for path, want := range map[string]int{
		"/money/invoices/" + string(booking.NewID()): http.StatusNotFound, "/money/invoices/nonsense": http.StatusNotFound,
		"/money/month/2026-13": http.StatusUnprocessableEntity, "/money/month/nonsense": http.StatusUnprocessableEntity,
	} {
		if a := owner.Get(path); a.Status != want {
			t.Errorf("%s answers %d, want %d", path, a.Status, want)
		}
	}
}

// A body far beyond any form is not read to its end (RFC 9110 section
// 15.5.14).
func TestFormsRefuseFloods(t *testing.T) {
	s := sitetest.New(t)
	if a := s.As(booking.Owner).Post("/farms/new", "name", strings.Repeat("x", 20<<20)); a.Status != http.StatusRequestEntityTooLarge {
		t.Errorf("20 MB answer %d", a.Status)
	}
}
