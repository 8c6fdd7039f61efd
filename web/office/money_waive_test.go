package office_test

import (
	"net/http"
	"testing"

	"drawbar/billing"
	"drawbar/booking"
	"drawbar/web/sitetest"
)

// A docket without a price is held back until somebody waives it.
func TestDocketIsWaived(t *testing.T) {
	s := sitetest.New(t)
	month := signedFor(t, s)
	lists, err := s.Biller.Store.PriceLists(t.Context())
	s.Must(err)
	list := lists[0]
	list.Prices = []billing.Price{{Service: "scan", Tiers: []billing.Tier{{From: 1, Rate: billing.Whole(1)}}}}
	s.Must(s.Biller.Store.SavePriceList(t.Context(), &list))

	office := s.As(booking.Office)
	page := office.Get("/money/month/" + month.String())
	path := page.Page.Find(`a[href$="/waive"]`).AttrOr("href", "")
	if path == "" || !page.Says("There is no price for") {
		t.Fatal("the docket is not held back with a way to waive it")
	}
	refused(t, office, path, path, "reason", "", "Please fill this in.")
	saved(t, office, path, path, "reason", "A trial")
	if a := office.Get("/money/month/" + month.String()); a.Says("Held back") || !a.Says("Nothing is left to bill") {
		t.Error("the waived docket is still held back")
	}
	if a := office.Post(path, "reason", "Again"); a.Status != http.StatusConflict {
		t.Errorf("waiving again answers %d", a.Status)
	}
	if a := office.Get("/money/dockets/" + string(booking.NewID()) + "/waive"); a.Status != http.StatusNotFound {
		t.Errorf("an unknown docket answers %d", a.Status)
	}
	if a := s.As(booking.Operator).Get(path); a.Status != http.StatusForbidden {
		t.Errorf("an operator gets %d", a.Status)
	}
}
