package board_test

import (
	"net/http"
	"testing"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

// The cheapest slot of a booking is taken by its button alone.
func TestSlotIsTakenByOneButton(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	c := s.As(booking.Owner)
	path := "/bookings/" + string(b.ID)
	a := c.Get(path)
	slots := a.Page.Find("ul.slots form")
	if slots.Length() < 2 || !a.Says("Where it fits") || !a.Says("to the rounds") {
		t.Fatalf("%d slots: %s", slots.Length(), a.Page.Find("main").Text())
	}
	if a := c.Post(path+"/place", sitetest.Entries(slots.First())...); a.Status != http.StatusSeeOther {
		t.Fatalf("taking a slot answers %d: %s", a.Status, a.Page.Find("main").Text())
	}
	if v := visitOf(s, b); v.State != booking.Pencilled {
		t.Errorf("the visit is %s", v.State)
	}
	if c.Get(path).Page.Find("ul.slots").Length() != 0 {
		t.Error("a placed booking still shows slots")
	}
}

// A booking that fits nowhere says why instead.
func TestNoSlotSaysWhy(t *testing.T) {
	s := sitetest.New(t)
	b := asked(s)
	s.Yard.GateWidth = 2.2
	if err := s.Store.SaveYard(t.Context(), &s.Yard); err != nil {
		t.Fatal(err)
	}
	a := s.As(booking.Owner).Get("/bookings/" + string(b.ID))
	if a.Page.Find("ul.slots").Length() != 0 || !a.Says("The yard's gate is 2.2 m") {
		t.Errorf("says %s", a.Page.Find("main").Text())
	}
}
