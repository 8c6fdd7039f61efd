package office_test

import (
	"net/http"
	"testing"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

// The costs start with usual ones, are the business's own once saved, and stay
// when the rest of the settings is saved.
func TestRunningCosts(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	const path = "/settings/costs"
	a := owner.Get(path)
	if a.Status != http.StatusOK || a.Typed("hour") != "40.00" || a.Typed("km") != "0.90" || !a.Says("usual costs until you give your own") {
		t.Fatalf("the costs answer %d with %q an hour and %q a kilometre", a.Status, a.Typed("hour"), a.Typed("km"))
	}
	if a := owner.Get(saved(t, owner, path, path, "hour", "52.50", "lodging", "180").To); a.Typed("hour") != "52.50" || a.Typed("lodging") != "180.00" || a.Says("usual costs") {
		t.Errorf("saved, an hour is %q and a night %q", a.Typed("hour"), a.Typed("lodging"))
	}
	saved(t, owner, "/settings", "/settings", "phone", "555 0100")
	b, err := s.Store.Business(t.Context())
	s.Must(err)
	want := booking.UsualRunning
	want.Hour, want.Lodging = 5_250, 18_000
	if b.Running != want || b.Phone != "555 0100" {
		t.Errorf("kept as %+v, want %+v", b.Running, want)
	}
}

func TestRunningCostsAreChecked(t *testing.T) {
	s := sitetest.New(t)
	owner := s.As(booking.Owner)
	const path = "/settings/costs"
	for _, c := range [][3]string{
		{"hour", "0", "Give what an hour costs you"}, {"hour", "", "Give a number such as"}, {"overtime", "-1", "without a sign"},
		{"km", "cheap", "Give a number such as"}, {"lodging", "100000.01", "more than a plan can reckon with"},
	} {
		refused(t, owner, path, path, c[0], c[1], c[2])
	}
	old := owner.Get(path)
	saved(t, owner, path, path, "hour", "41")
	if a := owner.Post(path, old.With(path, "hour", "43")...); a.Status != http.StatusConflict || a.Typed("hour") != "43" {
		t.Errorf("changed by somebody else meanwhile, it answers %d with %q typed", a.Status, a.Typed("hour"))
	}
	for _, role := range []booking.Role{booking.Office, booking.Operator} {
		if a := s.As(role).Get(path); a.Status == http.StatusOK {
			t.Errorf("%s sees the costs", role)
		}
	}
}
