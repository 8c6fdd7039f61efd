package office_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"
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
	if len(services) != 12 || len(booking.ByCode(services)) != 12 {
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

// A first try that is refused, or that broke off after some services, is no
// business yet; the next one ends with all of them, each once.
func TestFirstStartAfterABrokenOne(t *testing.T) {
	s := sitetest.Empty(t)
	owner := s.As(booking.Owner)
	drench := booking.StandardServices()[0]
	drench.Name = "Dose by mouth"
	s.Must(s.Store.SaveService(t.Context(), &drench))
	filled := []string{"name", "Alder Lane", "email", "office@example.com", "zone", "Europe/Dublin", "country", "ie", "currency", "eur", "home_name", "Home", "lat", "53.1"}
	if a := owner.Post("/settings", filled...); a.Status != 422 || a.Typed("name") != "Alder Lane" || !a.Says("Set up your business") {
		t.Errorf("half a position answers %d", a.Status)
	}
	if _, err := s.Store.Business(t.Context()); !fault.Is(err, fault.NotFound) {
		t.Fatalf("a refused form set the business up: %v", err)
	}
	if a := owner.Post("/settings", append(filled, "lon", "-7.2")...); a.Status != http.StatusSeeOther || !owner.Get(a.To).Says("Your business is set up.") {
		t.Fatalf("setting up answers %d", a.Status)
	}
	services, err := s.Store.Services(t.Context())
	s.Must(err)
	if len(services) != 12 || services[0].Name != "Dose by mouth" {
		t.Errorf("%d services, the first %q", len(services), services[0].Name)
	}
	if b, err := s.Store.Business(t.Context()); err != nil || b.Country != "IE" || b.Currency != "EUR" {
		t.Errorf("country %q, currency %q, %v", b.Country, b.Currency, err)
	}
}

// People and rigs can be entered in any order, before the business is.
func TestSettingsBeforeTheBusiness(t *testing.T) {
	s := sitetest.Empty(t)
	owner := s.As(booking.Owner)
	saved(t, owner, "/settings/rigs/new", "/settings/rigs/new", "name", "First")
	rigs, err := s.Store.Rigs(t.Context())
	s.Must(err)
	for _, path := range []string{"/settings", "/settings/people", "/settings/rigs", "/settings/rigs/" + string(rigs[0].ID), "/settings/services", "/farms"} {
		if a := owner.Get(path); a.Status != http.StatusOK {
			t.Errorf("%s answers %d", path, a.Status)
		}
	}
}

// A position is shown as it can be typed again.
func TestPositionsNearZero(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	saved(t, owner, "/settings", "/settings", "lat", "51.5", "lon", "0.00001")
	if got := owner.Get("/settings").Typed("lon"); got != "0.00001" {
		t.Errorf("the longitude comes back as %q", got)
	}
	saved(t, owner, "/settings", "/settings", "phone", "555-0101")
}

func TestWhoMaySetWhat(t *testing.T) {
	s := sitetest.New(t)
	for role, paths := range map[booking.Role][]string{
		booking.Office:   {"/settings", "/settings/people", "/settings/people/new"},
		booking.Operator: {"/settings", "/settings/rigs", "/settings/services", "/settings/times", "/settings/times/scan/all", "/farms", "/money", "/money/prices", "/week"},
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
