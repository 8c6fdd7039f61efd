package phone_test

import (
	"strings"
	"testing"

	"drawbar/booking"
)

// 240 head to 90 kg at 0.2 mg a kg and 2 mg in a mL are 9 mL each, 2,160 mL;
// a twentieth over makes 2,268.
func TestKitListBeforeLeaving(t *testing.T) {
	s := newSite(t)
	services, err := s.store.Services(t.Context())
	s.must(err)
	drench := booking.ByCode(services)["drench"]
	drench.Product, drench.MgPerKg, drench.MgPerML, drench.Packs = "Invented drench", 0.2, 2, []int{1000}
	s.must(s.store.SaveService(t.Context(), &drench))
	s.booking.Mobs[0].Weights = []booking.WeightClass{{Head: 240, Kg: 90}}
	s.must(s.store.ChangeBooking(t.Context(), booking.BookingChange{Booking: &s.booking, Verb: "changed"}))
	for who, paths := range map[booking.Role][]string{booking.Operator: {s.visitPath(), s.visitPath() + "/kit"}, booking.Office: {s.visitPath() + "/kit"}} {
		c := s.signIn(who)
		for _, path := range paths {
			text := strings.Join(strings.Fields(c.page(path).Find("main").Text()), " ")
			for _, words := range []string{"Invented drench: 2,268 mL, in whole packs 3 × 1,000 mL", "Follow the label and your vet.", "disinfectant", "fuel for the compressor"} {
				if !strings.Contains(text, words) {
					t.Errorf("%s does not say %q: %s", path, words, text)
				}
			}
		}
	}
	if a := s.signIn(booking.Operator).get("/visits/" + string(booking.NewID()) + "/kit"); a.status != 404 {
		t.Errorf("a visit that is not there answers %d", a.status)
	}
}
