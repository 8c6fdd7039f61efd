package jobs_test

import (
	"testing"

	"drawbar/jobs"

	"cloud.google.com/go/civil"
	"github.com/quagmt/udecimal"
)

// Source of the days: published US withdrawal for meat of sheep drenches
// (ivermectin 11, moxidectin 7, levamisole 3 days). Calendar sums by hand,
// over a month's end, a leap day and a year's end.
func TestWithdrawalEnds(t *testing.T) {
	for _, c := range []struct {
		given string
		days  int
		want  string
	}{
		{"2026-03-09", 11, "2026-03-20"},
		{"2026-02-25", 7, "2026-03-04"},
		{"2028-02-27", 3, "2028-03-01"}, // 2028 has 29 February
		{"2026-12-30", 3, "2027-01-02"},
		{"2026-03-09", 0, "2026-03-09"},
	} {
		given := must[civil.Date](t)(civil.ParseDate(c.given))
		if got := (jobs.Treatment{Given: given, MeatDays: c.days}).WithdrawalEnds(); got.String() != c.want {
			t.Errorf("%s and %d days: %v, want %s", c.given, c.days, got, c.want)
		}
	}
}

// Source: dose sums for 70 kg, 0.2 mg/kg at 0.8 mg/mL → 17.5 mL a head;
// times the head by hand.
func TestQuantity(t *testing.T) {
	for _, c := range []struct {
		dose string
		head int
		want string
	}{
		{"17.5", 240, "4200"},
		{"4.62", 239, "1104.18"},
		{"0.1", 3, "0.3"},
	} {
		got := jobs.Treatment{Dose: udecimal.MustParse(c.dose), Head: c.head}.Quantity()
		if got.String() != c.want {
			t.Errorf("%s to %d head: %s, want %s", c.dose, c.head, got, c.want)
		}
	}
}

// What UK SI 2013/2033 regulation 19(2) wants on administering: product,
// date, quantity, withdrawal period, identity of the animals.
func TestTreatmentHoldsWhatTheLawAsksFor(t *testing.T) {
	docket := jobs.Fold(wholeVisit())
	got := docket.Treatments[0]
	if got.Product == "" || !got.Given.IsValid() || !got.Quantity().IsPos() || got.WithdrawalEnds().Before(got.Given) || got.Mob == "" || got.Head == 0 {
		t.Errorf("something is missing: %+v", got)
	}
}
