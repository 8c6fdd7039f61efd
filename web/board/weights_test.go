package board_test

import (
	"net/http"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

func TestWeightClasses(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	head := b.Mobs[0].Head
	c := s.As(booking.Owner)
	page := "/bookings/" + string(b.ID)
	form := func(pairs ...string) []string { return c.Get(page).With(page+"/weights", pairs...) }
	for _, bad := range []struct {
		error string
		pairs []string
	}{
		{"please make them agree", []string{"mob.0.class.0.head", "7", "mob.0.class.0.heaviest", "60"}},
		{"from 1 to 300 kg", []string{"mob.0.class.0.head", strconv.Itoa(head), "mob.0.class.0.heaviest", "900"}},
		{"Mob 1, class 2, heaviest: Please fill this in", []string{"mob.0.class.1.head", "7", "mob.0.class.1.heaviest", ""}},
		{"whole number", []string{"mob.0.class.2.head", "many", "mob.0.class.2.heaviest", "50"}},
	} {
		a := c.Post(page+"/weights", form(bad.pairs...)...)
		if a.Status != 422 || !strings.Contains(a.Page.Find(".errors").Text(), bad.error) || a.Typed(bad.pairs[0]) != bad.pairs[1] {
			t.Errorf("%v answers %d: %s", bad.pairs, a.Status, a.Page.Find(".errors").Text())
		}
	}
	sent := form("mob.0.class.0.head", "40", "mob.0.class.0.heaviest", "52.5", "mob.0.class.2.head", strconv.Itoa(head-40), "mob.0.class.2.heaviest", "80")
	if a := c.Post(page+"/weights", sent...); a.Status != http.StatusSeeOther {
		t.Fatalf("good classes answer %d: %s", a.Status, a.Page.Find(".errors").Text())
	}
	got, err := s.Store.Booking(t.Context(), b.ID)
	s.Must(err)
	if want := []booking.WeightClass{{Head: 40, Kg: 52.5}, {Head: head - 40, Kg: 80}}; !reflect.DeepEqual(got.Mobs[0].Weights, want) {
		t.Errorf("kept %v", got.Mobs[0].Weights)
	}
	if a := c.Get(page); !a.Says("40 to 52.5 kg") {
		t.Error("the page does not say the classes")
	}
	if a := c.Post(page+"/weights", sent...); a.Status != http.StatusConflict {
		t.Errorf("an old version answers %d", a.Status)
	}
	if a := c.Post(page+"/weights", form("mob.0.class.0.head", "", "mob.0.class.0.heaviest", "", "mob.0.class.1.head", "", "mob.0.class.1.heaviest", "")...); a.Status != http.StatusSeeOther {
		t.Errorf("forgetting answers %d", a.Status)
	}
}
