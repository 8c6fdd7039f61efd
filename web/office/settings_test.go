package office_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

// refused posts to a form and expects the sentence at the field, with what
// was typed still there.
func refused(t *testing.T, c *sitetest.Client, page, action, field, typed, sentence string) {
	t.Helper()
	a := c.Post(action, c.Get(page).With(action, field, typed)...)
	if a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Error(field), sentence) {
		t.Errorf("%s %s=%q answers %d with %q, want %q", action, field, typed, a.Status, a.Error(field), sentence)
	}
	if got := a.Typed(field); got != typed && len(typed) < 200 {
		t.Errorf("%s %s: typed %q, the page has %q", action, field, typed, got)
	}
}

// saved posts to a form and expects to be sent on.
func saved(t *testing.T, c *sitetest.Client, page, action string, changes ...string) sitetest.Answer {
	t.Helper()
	a := c.Post(action, c.Get(page).With(action, changes...)...)
	if a.Status != http.StatusSeeOther {
		t.Fatalf("%s answers %d: %s", action, a.Status, strings.Join(strings.Fields(a.Page.Find("main").Text()), " "))
	}
	return a
}

// A business starts from nothing: the owner fills in one form and has the
// twelve services.
func TestFirstStart(t *testing.T) {
	s := sitetest.Empty(t)
	owner := s.As(booking.Owner)
	if a := owner.Get("/settings"); a.Status != http.StatusOK || !a.Says("Set up your business") {
		t.Fatalf("the first settings page answers %d", a.Status)
	}
	saved(t, owner, "/settings", "/settings", "name", "Alder Lane Sheep Work", "email", "office@example.com", "zone", "Europe/Dublin",
		"country", "IE", "currency", "EUR", "home_name", "Home yard", "lat", "53.1", "lon", "-7.2")
	services, err := s.Store.Services(t.Context())
	s.Must(err)
	if len(services) != 12 {
		t.Errorf("%d services, want 12", len(services))
	}
	if a := s.Anybody().Get("/book"); a.Status != http.StatusOK || !a.Says("Book a day with the rig") {
		t.Errorf("the booking form answers %d", a.Status)
	}
}

func TestSettingsAreChecked(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	for field, bad := range map[string][2]string{
		"name":     {"", "Please fill this in."},
		"email":    {"not an address", "Give one mail address"},
		"zone":     {"Middle of Nowhere", "Give a time zone"},
		"country":  {"usa", "two capital letters"},
		"currency": {"$", "three capital letters"},
		"lat":      {"north", "Give a number"},
		"phone":    {strings.Repeat("9", 41), "Please keep this to 40 characters"},
		"address":  {"\xff\xfe", "characters we cannot read"},
	} {
		a := owner.Post("/settings", owner.Get("/settings").With("/settings", field, bad[0])...)
		if a.Status != http.StatusUnprocessableEntity || !strings.Contains(a.Error(field), bad[1]) {
			t.Errorf("%s=%q answers %d with %q", field, bad[0], a.Status, a.Error(field))
		}
	}
	if a := owner.Post("/settings", owner.Get("/settings").With("/settings", "lat", "99")...); a.Status != 422 || !a.Says("latitude and longitude") {
		t.Errorf("a place off the Earth answers %d", a.Status)
	}
}

// Saving what somebody else has changed meanwhile says so and keeps what was
// typed.
func TestStaleSettings(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	old := owner.Get("/settings").With("/settings", "phone", "555-0100")
	saved(t, owner, "/settings", "/settings", "phone", "555-0199")
	a := owner.Post("/settings", old...)
	if a.Status != http.StatusConflict || !a.Says("Somebody else changed this business") || a.Typed("phone") != "555-0100" {
		t.Errorf("a stale save answers %d, phone %q", a.Status, a.Typed("phone"))
	}
}

func TestPeople(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	saved(t, owner, "/settings/people/new", "/settings/people/new", "name", "Nora Reed", "email", "nora@example.com", "role", "operator", "skills", "scan")
	nora, err := s.Store.PersonByEmail(t.Context(), "nora@example.com")
	s.Must(err)
	if !nora.Can(booking.SkillScan) || !nora.Active || nora.Role != booking.Operator {
		t.Errorf("stored %+v", nora)
	}
	path := "/settings/people/" + string(nora.ID)
	refused(t, owner, path, path, "email", s.People[booking.Office].Email, "has this address already")
	refused(t, owner, path, path, "name", "", "Please fill this in.")
	only := "/settings/people/" + string(s.People[booking.Owner].ID)
	if a := owner.Post(only, owner.Get(only).With(only, "role", "office")...); a.Status != 422 || !a.Says("Somebody has to stay the owner") {
		t.Errorf("the last owner stepping down answers %d", a.Status)
	}
	if a := owner.Post(path + "/link"); a.Status != http.StatusSeeOther {
		t.Errorf("mailing a link answers %d", a.Status)
	}
}

func TestRigs(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	saved(t, office, "/settings/rigs/new", "/settings/rigs/new", "name", "Second", "width", "2.5")
	path := "/settings/rigs/" + string(s.Rig.ID)
	for field, bad := range map[string][2]string{
		"width": {"0.2", "Give a number from 1 to 5"}, "mass": {"heavy", "Give a whole number"}, "day_end": {"04:00", "The day has to end after it starts."}, "name": {"Second", "Another rig has this name"},
	} {
		refused(t, office, path, path, field, bad[0], bad[1])
	}
	if a := office.Post("/settings/rigs/new", office.Get("/settings/rigs/new").With("/settings/rigs/new", "name", "Third", "crew", string(s.Rig.Crew[0]))...); a.Status != 422 || !a.Says("goes with "+s.Rig.Name) {
		t.Errorf("a person with two rigs answers %d", a.Status)
	}
	day := s.Today.AddDays(3).String()
	saved(t, office, path, path+"/off", "day", day, "reason", "brakes")
	if !office.Get(path).Says("brakes") {
		t.Error("the day off is not shown")
	}
	saved(t, office, path, path+"/out", "day", day)
	if office.Get(path).Says("brakes") {
		t.Error("the day off is still there")
	}
}

func TestServices(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	saved(t, office, "/settings/services", "/settings/services/scan", "name", "Ultrasound")
	services, err := s.Store.Services(t.Context())
	s.Must(err)
	if got := booking.ByCode(services)["scan"]; got.Name != "Ultrasound" || !got.Scanning || got.Skill != booking.SkillScan {
		t.Errorf("stored %+v", got)
	}
	a := office.Post("/settings/services/scan", office.Get("/settings/services").With("/settings/services/scan", "name", "")...)
	if a.Status != 422 || !a.Says("Please fill this in.") {
		t.Errorf("a service without a name answers %d", a.Status)
	}
	if a := office.Post("/settings/services/juggle", "name", "x"); a.Status != http.StatusNotFound {
		t.Errorf("an unknown service answers %d", a.Status)
	}
}

func TestWhoMaySetWhat(t *testing.T) {
	s := sitetest.New(t)
	for role, paths := range map[booking.Role][]string{
		booking.Office:   {"/settings", "/settings/people", "/settings/people/new"},
		booking.Operator: {"/settings", "/settings/rigs", "/settings/services", "/farms", "/money", "/money/prices", "/week"},
	} {
		c := s.As(role)
		for _, path := range paths {
			if a := c.Get(path); a.Status != http.StatusForbidden {
				t.Errorf("%s as %s answers %d", path, role, a.Status)
			}
		}
	}
	for _, path := range []string{"/settings", "/farms", "/money"} {
		if a := s.Anybody().Get(path); a.Status != http.StatusSeeOther || !strings.HasPrefix(a.To, "/sign-in") {
			t.Errorf("%s for nobody answers %d to %q", path, a.Status, a.To)
		}
	}
}
