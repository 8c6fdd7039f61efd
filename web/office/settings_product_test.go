package office_test

import (
	"slices"
	"testing"

	"drawbar/booking"
	"drawbar/web/sitetest"
)

const drenchPath = "/settings/services/drench"

func TestTheProductOfAService(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	saved(t, office, drenchPath, drenchPath, "product", "Invented drench", "mg_per_kg", "0,2", "mg_per_ml", "0.8", "packs", "1000, 2500")
	services, err := s.Store.Services(t.Context())
	s.Must(err)
	if got := booking.ByCode(services)["drench"]; got.Product != "Invented drench" || got.MgPerKg != 0.2 || got.MgPerML != 0.8 || !slices.Equal(got.Packs, []int{1000, 2500}) {
		t.Errorf("stored %+v", got)
	}
	if a := office.Get(drenchPath); a.Typed("packs") != "1000, 2500" || a.Typed("mg_per_kg") != "0.2" || a.Typed("ml_per_head") != "" {
		t.Error("the product is not shown again")
	}
	if office.Get(scanPath).Page.Find(`[name="product"]`).Length() != 0 {
		t.Error("scanning asks for a product")
	}
}

func TestProductEntriesAreChecked(t *testing.T) {
	s := sitetest.New(t)
	office := s.As(booking.Office)
	refused(t, office, drenchPath, drenchPath, "packs", "a litre", "Give whole mL")
	saved(t, office, drenchPath, drenchPath, "product", "Invented drench", "ml_per_head", "5", "packs", "1000")
	refused(t, office, drenchPath, drenchPath, "packs", "0", "Give the sizes it is sold in")
	refused(t, office, drenchPath, drenchPath, "packs", "", "Give the sizes it is sold in")
	refused(t, office, drenchPath, drenchPath, "ml_per_head", "-1", "Give a number from")
	refused(t, office, drenchPath, drenchPath, "ml_per_head", "", "Give either mL a head")
}
