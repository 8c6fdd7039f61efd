package office_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

func TestAddAndChangeARig(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	saved(t, office, "/settings/rigs/new", "/settings/rigs/new", "name", "Second", "mount", "skid", "width", "2,5", "mass", "1,850", "weigh_bars", "on",
		"day_start", "06:30", "workdays", "6", "crew", string(s.People[booking.Office].ID))
	rigs, err := s.Store.Rigs(t.Context())
	s.Must(err)
	got := rigs[slices.IndexFunc(rigs, func(r booking.Rig) bool { return r.Name == "Second" })]
	if got.Mount != booking.OnSkid || got.Width != 2.5 || got.Mass != 1850 || !got.WeighBars || got.SideTilt || got.DayStart != 390 || !got.Active {
		t.Errorf("stored %+v", got)
	}
	if !slices.Equal(got.Workdays, []time.Weekday{time.Saturday}) || !slices.Equal(got.Crew, []booking.ID{s.People[booking.Office].ID}) {
		t.Errorf("goes out on %v with %v", got.Workdays, got.Crew)
	}
	path := "/settings/rigs/" + string(got.ID)
	if a := office.Get(saved(t, office, path, path, "side_tilt", "on", "active", "").To); !a.Says("skid frame · side tilt · weigh bars") || !a.Says("not in use") {
		t.Error("the list does not show the change")
	}
}

func TestRigEntriesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	saved(t, office, "/settings/rigs/new", "/settings/rigs/new", "name", "Second")
	path := "/settings/rigs/" + string(s.Rig.ID)
	for _, c := range [][3]string{
		{"name", "", "Please fill this in."}, {"name", strings.Repeat("r", 61), "Please keep this to 60 characters"}, {"name", "Second", "Another rig has this name"},
		{"mass", "heavy", "Give a whole number"}, {"mass", "99999999999", "Give a whole number"}, {"mass", "20", "Give a number from 100 to 20000"},
		{"width", "0.2", "Give a number from 1 to 5"}, {"width", "NaN", "Give a number"}, {"height", "1e9", "Give a number"}, {"length", "", "Please fill this in."},
		{"sort_gates", "4", "Give a number from 0 to 3"}, {"race_places", "0", "Give a number from 1 to 60"},
		{"day_start", "25:00", "Give a time of day"}, {"day_end", "04:00", "The day has to end after it starts."},
	} {
		refused(t, office, path, path, c[0], c[1], c[2])
	}
	for field, typed := range map[string]string{"mount": "cart", "workdays": "9", "crew": string(booking.NewID())} {
		if a := office.Post(path, office.Get(path).With(path, field, typed)...); a.Status != 422 || !strings.Contains(a.Error(field), "Choose") {
			t.Errorf("%s %s answers %d with %q", field, typed, a.Status, a.Error(field))
		}
	}
}

// Somebody can be with one rig at a time: not with two on one day of the
// week, unless one of them is out of use.
func TestNobodyGoesWithTwoRigs(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	busy := s.People[booking.Operator]
	third := func(name string, more ...string) sitetest.Answer {
		return office.Post("/settings/rigs/new", office.Get("/settings/rigs/new").With("/settings/rigs/new", append([]string{"name", name, "crew", string(busy.ID)}, more...)...)...)
	}
	a := third("Third")
	if want := busy.Name + " goes with " + s.Rig.Name; a.Status != 422 || !strings.Contains(a.Error("crew"), want) {
		t.Errorf("a person with two rigs answers %d with %q", a.Status, a.Error("crew"))
	}
	if a.Page.Find(`[name="crew"][checked]`).AttrOr("value", "") != string(busy.ID) {
		t.Error("the refused page forgets who was ticked")
	}
	if a := third("Third", "active", ""); a.Status != http.StatusSeeOther {
		t.Errorf("a rig out of use answers %d", a.Status)
	}
	if a := third("Fourth", "workdays", "0"); a.Status != http.StatusSeeOther { // the other rests on Sundays
		t.Errorf("a rig on other days answers %d", a.Status)
	}
}

func TestDaysAtHome(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	path := "/settings/rigs/" + string(s.Rig.ID)
	day := s.Today.AddDays(3).String()
	saved(t, office, path, path+"/off", "day", day, "reason", "brakes")
	saved(t, office, path, path+"/off", "day", day, "reason", "new tyres")
	if a := office.Get(path); !a.Says("new tyres") || a.Says("brakes") {
		t.Error("the day at home is not shown with its last reason")
	}
	if a := office.Get(saved(t, office, path, path+"/out", "day", day).To); a.Says("new tyres") || !a.Says(s.Rig.Name+" may go out again on") {
		t.Error("the day at home is still there")
	}
	saved(t, office, path, path+"/off", "day", day, "until", s.Today.AddDays(5).String(), "reason", "axle", "needed", "yes")
	if off, err := s.Store.DaysOff(t.Context(), s.Today, s.Today.AddDays(60)); err != nil || len(off) != 3 || !off[0].Needed || !off[2].Needed {
		t.Errorf("three days at home are %v, %v", off, err)
	}
	if a := office.Get(path); !a.Says("from the evening before: axle") {
		t.Error("it is not shown that the rig has to be at home")
	}
	for n := range 3 {
		s.Must(s.Store.DropDayOff(t.Context(), s.Rig.ID, s.Today.AddDays(3+n)))
	}
	if a := office.Post(path+"/off", "day", day, "until", s.Today.String(), "reason", "axle"); a.Status != 422 || !strings.Contains(a.Error("until"), "Give a day from the first one") {
		t.Errorf("ending before it begins answers %d with %q", a.Status, a.Error("until"))
	}
	for _, c := range [][3]string{
		{"day", "", "Please fill this in."}, {"day", "2027-02-30", "Give a day as year, month and day"}, {"day", s.Today.AddDays(-1).String(), "Give a day from today"},
		{"day", "2150-01-01", "Give a day from today"}, {"reason", "", "Please fill this in."}, {"reason", strings.Repeat("x", 61), "Please keep this to 60 characters"},
	} {
		entries := []string{"day", day, "reason", "brakes"}
		entries[slices.Index(entries, c[0])+1] = c[1]
		a := office.Post(path+"/off", entries...)
		if a.Status != 422 || !strings.Contains(a.Error(c[0]), c[2]) || a.Typed(c[0]) != c[1] {
			t.Errorf("%s %q answers %d with %q, typed %q", c[0], c[1], a.Status, a.Error(c[0]), a.Typed(c[0]))
		}
	}
	if off, err := s.Store.DaysOff(t.Context(), s.Today.AddDays(-2), s.Today.AddDays(70000)); err != nil || len(off) != 0 {
		t.Errorf("refused days are kept: %v, %v", off, err)
	}
	for _, path := range []string{"/settings/rigs/new/off", "/settings/rigs/" + string(booking.NewID()) + "/off", "/settings/rigs/" + string(booking.NewID()) + "/out", path + "/out"} {
		if a := office.Post(path, "reason", "x", "day", "never"); a.Status != http.StatusNotFound {
			t.Errorf("%s answers %d", path, a.Status)
		}
	}
}
