package office_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/web/sitetest"
)

func TestFarmsAndYards(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	to := saved(t, office, "/farms/new", "/farms/new", "name", "Osier Farm", "email", "osier@example.com", "hygiene", "0").To
	if a := office.Get(to); a.Status != 200 || !a.Says("known clean") || !a.Says("No yard yet.") {
		t.Fatalf("the new farm answers %d", a.Status)
	}
	saved(t, office, to+"/yards/new", to+"/yards/new", "name", "Osier pens", "lat", "38.9", "lon", "-75.5", "gate_width", "2.4", "helper", "on")
	if a := office.Get(to); !a.Says("Osier pens") || !a.Says("gate 2.4 m") || !a.Says("somebody pushes up") {
		t.Error("the new yard is not shown")
	}
	if a := office.Get("/farms?q=osier"); !a.Says("Osier Farm") || a.Says(s.Farm.Name) {
		t.Error("the search finds the wrong farms")
	}
}

func TestFarmEntriesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	farm := "/farms/" + string(s.Farm.ID)
	yard := farm + "/yards/" + string(s.Yard.ID)
	refused(t, office, farm, farm, "name", "", "Please fill this in.")
	refused(t, office, farm, farm, "email", "a@b", "Give one mail address")
	refused(t, office, farm, farm, "notes", strings.Repeat("x", 2001), "Please keep this to 2000 characters")
	refused(t, office, yard, yard, "gate_width", "99", "Give a number from 0 to 30")
	refused(t, office, yard, yard, "gate_width", "wide", "Give a number")
	if a := office.Post(yard, office.Get(yard).With(yard, "lat", "")...); a.Status != 422 || a.Error("lat") == "" {
		t.Errorf("a yard without a position answers %d", a.Status)
	}
	old := office.Get(farm).With(farm, "phone", "555-0100")
	saved(t, office, farm, farm, "phone", "555-0199")
	if a := office.Post(farm, old...); a.Status != http.StatusConflict || a.Typed("phone") != "555-0100" {
		t.Errorf("a stale save answers %d", a.Status)
	}
}

func TestUnknownFarmsAndYards(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	other := sample.Farm()
	s.Must(s.Store.SaveFarm(t.Context(), &other))
	for _, path := range []string{
		"/farms/" + string(booking.NewID()), "/farms/nonsense", "/farms/" + string(s.Farm.ID) + "/yards/" + string(booking.NewID()),
		"/farms/" + string(other.ID) + "/yards/" + string(s.Yard.ID), "/settings/rigs/nonsense", "/money/invoices/" + string(booking.NewID()), "/money/month/2026-13",
	} {
		if a := office.Get(path); a.Status != http.StatusNotFound && a.Status != http.StatusUnprocessableEntity {
			t.Errorf("%s answers %d", path, a.Status)
		}
	}
}
