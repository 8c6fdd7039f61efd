package booking_test

import (
	"slices"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
)

// What a new business starts with passes the checks of its own forms, and is
// what time is reckoned for: the codes, and the need of a side tilt, are those of
// package pace, whose table was written apart from this one.
func TestStandardServices(t *testing.T) {
	codes := []string{
		pace.Drench, pace.Inject, pace.EarTag, pace.Weigh, pace.Sort, pace.Condition,
		pace.FootCheck, pace.FootTrim, pace.Crutch, pace.Scan, pace.LambMark, pace.PourOn,
	}
	var got []string
	names := map[string]bool{}
	for i, s := range booking.StandardServices() {
		if err := s.Check(); err != nil {
			t.Errorf("%s: %v", s.Code, err)
		}
		if s.Position != i+1 || !s.Offered || s.Advice == "" || names[s.Name] {
			t.Errorf("%s: %+v", s.Code, s)
		}
		got, names[s.Name] = append(got, s.Code), true
	}
	if !slices.Equal(got, codes) {
		t.Errorf("codes %v, want %v", got, codes)
	}
	for _, known := range pace.Services() {
		if s := booking.ByCode(booking.StandardServices())[known.Code]; s.SideTilt != known.NeedsTilt {
			t.Errorf("%s: tilt %t, want %t", known.Code, s.SideTilt, known.NeedsTilt)
		}
	}
}
