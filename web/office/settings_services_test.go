package office_test

import (
	"slices"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

const scanPath = "/settings/services/scan"

func TestChangeAService(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	a := office.Get(saved(t, office, scanPath, scanPath, "name", "Ultrasound", "side_tilt", "on", "offered", "").To)
	if !a.Says("Ultrasound not offered needs side tilt, somebody who does scanning") {
		t.Error("the list does not show the change")
	}
	services, err := s.Store.Services(t.Context())
	s.Must(err)
	if got := booking.ByCode(services)["scan"]; got.Name != "Ultrasound" || !got.Scanning || !got.SideTilt || got.Skill != booking.SkillScan || got.Offered || got.Position != 10 {
		t.Errorf("stored %+v", got)
	}
	if a := s.Anybody().Get("/book"); a.Says("Ultrasound") || !a.Says("Crutch") {
		t.Error("farmers are offered what is not on offer")
	}
}

func TestServiceEntriesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	refused(t, office, scanPath, scanPath, "name", "", "Please fill this in.")
	refused(t, office, scanPath, scanPath, "name", strings.Repeat("n", 61), "Please keep this to 60 characters")
	refused(t, office, scanPath, scanPath, "advice", strings.Repeat("n", 401), "Please keep this to 400 characters")
	refused(t, office, scanPath, scanPath, "sort_gates", "4", "Give a number from 0 to 3")
	refused(t, office, scanPath, scanPath, "sort_gates", "two", "Give a whole number")
	for field, typed := range map[string]string{"skill": "juggle", "after": "scan"} {
		if a := office.Post(scanPath, office.Get(scanPath).With(scanPath, field, typed)...); a.Status != 422 || !strings.Contains(a.Error(field), "Choose") {
			t.Errorf("%s %s answers %d with %q", field, typed, a.Status, a.Error(field))
		}
	}
}

// The order is the one farmers see, whatever it is moved behind.
func TestServicesAreArranged(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	order := func() (codes []string) {
		services, err := s.Store.Services(t.Context())
		s.Must(err)
		for i, service := range services {
			codes = append(codes, service.Code)
			if service.Position != i+1 {
				t.Errorf("%s is at %d, want %d", service.Code, service.Position, i+1)
			}
		}
		return codes
	}
	want := order()
	for _, move := range [][2]string{{"scan", ""}, {"drench", "pour-on"}, {"weigh", "drench"}, {"scan", "inject"}, {"pour-on", "scan"}, {"sort", ""}} {
		path := "/settings/services/" + move[0]
		saved(t, office, path, path, "after", move[1])
		want = slices.DeleteFunc(want, func(code string) bool { return code == move[0] })
		want = slices.Insert(want, slices.Index(want, move[1])+1, move[0])
		if got := order(); !slices.Equal(got, want) {
			t.Fatalf("%s behind %q: %v, want %v", move[0], move[1], got, want)
		}
		if got := office.Get(path).Typed("after"); got != move[1] {
			t.Errorf("%s shows that it follows %q, want %q", move[0], got, move[1])
		}
	}
}
