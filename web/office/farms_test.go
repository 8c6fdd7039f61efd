package office_test

import (
	"net/http"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/sample"
	"drawbar/web/sitetest"

	"github.com/PuerkitoBio/goquery"
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
	refused(t, office, yard, yard, "name", "", "Please fill this in.")
	refused(t, office, yard, yard, "train_length", "41", "Give a number from 0 to 40")
	for _, c := range [][3]string{{farm, "hygiene", "7"}, {yard, "surface", "lava"}} {
		if a := office.Post(c[0], office.Get(c[0]).With(c[0], c[1], c[2])...); a.Status != 422 || !strings.Contains(a.Error(c[1]), "Choose") {
			t.Errorf("%s %s answers %d with %q", c[1], c[2], a.Status, a.Error(c[1]))
		}
	}
}

// Everything that is wrong is said at once, a position once.
func TestAllThatIsWrongIsSaid(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	path := "/farms/" + string(s.Farm.ID) + "/yards/new"
	a := office.Post(path, "name", "", "lat", "north", "lon", "", "surface", "gravel", "gate_width", "-1")
	var said []string
	a.Page.Find(".errors li a").Each(func(_ int, e *goquery.Selection) { said = append(said, e.Text()) })
	if got := strings.Join(said, ", "); got != "Name, Lat, Lon, Gate width" {
		t.Errorf("the summary names %s", got)
	}
	if a := office.Post(path, "name", "Pens", "lat", "91", "lon", "-75.5", "surface", "gravel"); a.Status != 422 || !a.Says("Give the position as latitude and longitude") {
		t.Errorf("a place off the Earth answers %d", a.Status)
	}
}

func TestFarmsAreFound(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	other := sample.Farm()
	other.Name, other.Contact, other.Email, other.Phone = "Quill Hollow", "Ødger Ångström", "quill@hollow.example", "302 555 0177"
	s.Must(s.Store.SaveFarm(t.Context(), &other))
	for _, search := range []string{"quill h", "QUILL HOLLOW", "Ødger", "ångström", "hollow.example", "555+0177", "+quill+"} {
		if a := office.Get("/farms?q=" + strings.ReplaceAll(search, " ", "+")); a.Status != 200 || !a.Says("Quill Hollow") || a.Says(s.Farm.Name) {
			t.Errorf("%q finds other farms", search)
		}
	}
	for _, search := range []string{"no+such+farm", "%ff%fe", "%00", strings.Repeat("x", 3000), "%25", "'%20OR%20''='"} {
		if a := office.Get("/farms?q=" + search); a.Status != 200 || !a.Says("No farms here.") || a.Says("Quill Hollow") {
			t.Errorf("%.20q answers %d and finds something", search, a.Status)
		}
	}
	if a := office.Get("/farms"); !a.Says("Quill Hollow") || !a.Says(s.Farm.Name) {
		t.Error("without a search some farms are missing")
	}
}

// A farm's page has what is still to be done and what was done, the latest
// first; what another farm asked for is not on it.
func TestFarmShowsItsWork(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	signedFor(t, s)
	b := sample.Booking(s.Farm, s.Yard)
	s.Must(s.Store.AddBooking(t.Context(), booking.NewBooking{Farm: &s.Farm, Yard: &s.Yard, Booking: &b}))
	a := office.Get("/farms/" + string(s.Farm.ID))
	if a.Page.Find(`a[href="/bookings/`+string(b.ID)+`"]`).Length() != 1 || a.Page.Find(`a[href^="/bookings/"]`).Length() != 1 {
		t.Error("the open booking, and it alone, is not shown")
	}
	if !a.Says("Past visits") || !a.Says("120 head") {
		t.Error("the visit is not shown")
	}
	other := sample.Farm()
	s.Must(s.Store.SaveFarm(t.Context(), &other))
	if a := office.Get("/farms/" + string(other.ID)); !a.Says("None open.") || a.Says("Past visits") {
		t.Error("another farm shows this one's work")
	}
}

// A yard opens through its own farm alone.
func TestYardsOfOthers(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	other := sample.Farm()
	s.Must(s.Store.SaveFarm(t.Context(), &other))
	path := "/farms/" + string(other.ID) + "/yards/" + string(s.Yard.ID)
	if a := office.Get(path); a.Status != http.StatusNotFound {
		t.Errorf("looking answers %d", a.Status)
	}
	if a := office.Post(path, "name", "Mine", "version", "1", "lat", "38.9", "lon", "-75.5", "surface", "gravel"); a.Status != http.StatusNotFound {
		t.Errorf("saving answers %d", a.Status)
	}
	if y, err := s.Store.Yard(t.Context(), s.Yard.ID); err != nil || y.FarmID != s.Farm.ID || y.Name != s.Yard.Name {
		t.Errorf("the yard is now %+v, %v", y, err)
	}
}
