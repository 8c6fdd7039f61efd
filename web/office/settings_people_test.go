package office_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

func pathOf(p booking.Person) string { return "/settings/people/" + string(p.ID) }

func TestAddAndChangeAPerson(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	saved(t, owner, "/settings/people/new", "/settings/people/new", "name", "Nora Reed", "email", "nora@example.com", "role", "operator", "skills", "scan")
	nora, err := s.Store.PersonByEmail(t.Context(), "nora@example.com")
	s.Must(err)
	if !nora.Can(booking.SkillScan) || !nora.Active || nora.Role != booking.Operator {
		t.Errorf("stored %+v", nora)
	}
	a := owner.Get(saved(t, owner, pathOf(nora), pathOf(nora), "name", "Nora Reed-Hale", "skills", "crutch").To)
	if !a.Says("Saved Nora Reed-Hale.") || !a.Says("operator · nora@example.com") {
		t.Error("the list does not show the change")
	}
	if got, err := s.Store.Person(t.Context(), nora.ID); err != nil || got.Can(booking.SkillScan) || !got.Can(booking.SkillCrutch) {
		t.Errorf("stored %+v, %v", got, err)
	}
}

func TestPersonEntriesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	path, office := pathOf(s.People[booking.Operator]), s.People[booking.Office]
	refused(t, owner, path, path, "name", "", "Please fill this in.")
	refused(t, owner, path, path, "name", strings.Repeat("n", 121), "Please keep this to 120 characters")
	refused(t, owner, path, path, "email", "", "Please fill this in.")
	refused(t, owner, path, path, "email", "Ann <ann@example.com>", "Give one mail address")
	refused(t, owner, path, path, "email", strings.ToUpper(office.Email), office.Name+" has this address already")
	refused(t, owner, path, path, "phone", strings.Repeat("9", 41), "Please keep this to 40 characters")
	for field, typed := range map[string]string{"role": "emperor", "skills": "juggle"} {
		if a := owner.Post(path, owner.Get(path).With(path, field, typed)...); a.Status != 422 || !strings.Contains(a.Error(field), "Choose") {
			t.Errorf("%s %s answers %d with %q", field, typed, a.Status, a.Error(field))
		}
	}
}

// Whoever steps down or leaves, somebody has to be able to set things right.
func TestLastOwnerStays(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	path := pathOf(s.People[booking.Owner])
	refused(t, owner, path, path, "role", "office", "Somebody has to stay the owner.")
	if a := owner.Post(path, owner.Get(path).With(path, "active", "")...); a.Status != 422 || !strings.Contains(a.Error("active"), "Somebody has to stay the owner.") {
		t.Errorf("the last owner leaving answers %d", a.Status)
	}
	office := pathOf(s.People[booking.Office])
	saved(t, owner, office, office, "role", "owner")
	saved(t, owner, path, path, "role", "office")
	if a := owner.Get("/settings"); a.Status != http.StatusForbidden {
		t.Errorf("the former owner still sees settings: %d", a.Status)
	}
}

// Somebody who leaves is out at once, gets no link, and is missed by name.
func TestSomebodyLeaves(t *testing.T) {
	s := sitetest.New(t)
	owner, operator := s.As(booking.Owner), s.As(booking.Operator)
	gone := s.People[booking.Operator]
	to := saved(t, owner, pathOf(gone), pathOf(gone), "active", "").To
	if a := owner.Get(to); !a.Says(s.Rig.Name+" still counts on "+gone.Name) || !a.Says("not working here now") {
		t.Error("the list does not tell who is missing where")
	}
	if a := operator.Get("/today"); a.Status != http.StatusSeeOther || !strings.HasPrefix(a.To, "/sign-in") {
		t.Errorf("the session goes on: %d", a.Status)
	}
	if !owner.Get("/settings/rigs/" + string(s.Rig.ID)).Says(gone.Name + " (not working here now)") {
		t.Error("the rig does not show who left")
	}
	if a := owner.Post(pathOf(gone) + "/link"); a.Status != http.StatusConflict || !a.Says("does not work here now") {
		t.Errorf("a link for somebody who left answers %d", a.Status)
	}
}

// The mailed link signs that person in, and nobody else.
func TestMailASignInLink(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	to := s.People[booking.Operator]
	if a := owner.Post(pathOf(to) + "/link"); a.Status != http.StatusSeeOther || !owner.Get(a.To).Says("A link is on its way to "+to.Email) {
		t.Fatalf("mailing a link answers %d", a.Status)
	}
	letter, ok, err := s.Store.ClaimNotice(t.Context(), time.Now().Add(time.Hour))
	s.Must(err)
	if !ok || letter.To != to.Email {
		t.Fatalf("the letter goes to %q", letter.To)
	}
	_, link, _ := strings.Cut(letter.Body, s.Desk.Site)
	link, _, _ = strings.Cut(link, "\n")
	phone := s.Anybody()
	if a := phone.Post(link); a.Status != http.StatusSeeOther {
		t.Fatalf("the link answers %d", a.Status)
	}
	if a := phone.Get("/today"); a.Status != http.StatusOK || !strings.Contains(a.Page.Find("header").Text(), to.Name) {
		t.Errorf("the link signs in somebody else: %d", a.Status)
	}
	if a := owner.Post("/settings/people/new/link"); a.Status != http.StatusNotFound {
		t.Errorf("a link for nobody answers %d", a.Status)
	}
}

// A change is in the record under the name of who made it.
func TestPeopleAreRecorded(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	path := pathOf(s.People[booking.Office])
	saved(t, owner, path, path, "phone", "555-0107")
	changes, err := s.Store.Changes(t.Context(), booking.ChangeQuery{Subject: s.People[booking.Office].ID, Limit: 1})
	s.Must(err)
	if len(changes) != 1 || changes[0].Verb != "changed" || changes[0].Who.Name != s.People[booking.Owner].Name {
		t.Errorf("the record says %+v", changes)
	}
}

// Days away are noted and taken back; what else is saved leaves them alone.
func TestDaysAway(t *testing.T) {
	s := sitetest.New(t)
	owner, who := s.As(booking.Owner), s.People[booking.Operator]
	path := pathOf(who)
	saved(t, owner, path, path+"/away", "from", "2031-03-03", "to", "2031-03-14", "reason", "lambing at home")
	saved(t, owner, path, path+"/away", "from", "2031-01-07", "to", "2031-01-07")
	saved(t, owner, path, path, "phone", "302-555-0188")
	p, err := s.Store.Person(t.Context(), who.ID)
	s.Must(err)
	if len(p.Away) != 2 || p.Away[0].From.Month != time.January || p.Away[1].Reason != "lambing at home" || p.Phone != "302-555-0188" {
		t.Errorf("stored %+v", p)
	}
	if a := owner.Get(path); !a.Says("Mon 3 March 2031 to Fri 14 March 2031: lambing at home") {
		t.Error("the page does not list the days")
	}
	refused(t, owner, path, path+"/away", "from", "", "Please fill this in.")
	a := owner.Post(path+"/away", owner.Get(path).With(path+"/away", "from", "2031-03-03", "to", "2031-03-01")...)
	if a.Status != 422 || !strings.Contains(a.Error("to"), "Give the last day away") {
		t.Errorf("ending before it begins answers %d with %q", a.Status, a.Error("to"))
	}
	saved(t, owner, path, path+"/back", "at", "0")
	if p, err = s.Store.Person(t.Context(), who.ID); err != nil || len(p.Away) != 1 || p.Away[0].From.Month != time.March {
		t.Errorf("left %+v, %v", p.Away, err)
	}
	if a := owner.Post(path+"/back", owner.Get(path).With(path+"/back", "at", "7")...); a.Status != http.StatusConflict {
		t.Errorf("days that are not there: %d", a.Status)
	}
}
