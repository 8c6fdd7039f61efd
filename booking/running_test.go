package booking_test

import (
	"testing"

	"drawbar/booking"
	"drawbar/booking/fault"
)

func TestRunningCostsNameTheField(t *testing.T) {
	for field, change := range map[string]func(*booking.Running){
		"":         func(r *booking.Running) { r.Overtime, r.SoloKm = 0, 0 },
		"hour":     func(r *booking.Running) { r.Hour = 0 },
		"overtime": func(r *booking.Running) { r.Overtime = -1 },
		"km":       func(r *booking.Running) { r.Km = 10_000_001 },
		"solo_km":  func(r *booking.Running) { r.SoloKm = -1 },
		"turn_out": func(r *booking.Running) { r.TurnOut = 1 << 60 },
		"lodging":  func(r *booking.Running) { r.Lodging = -1 },
	} {
		r := booking.UsualRunning
		change(&r)
		wrong := fault.FieldsOf(r.Check())
		if field == "" && len(wrong) == 0 {
			continue
		}
		if len(wrong) != 1 || wrong[field] == "" {
			t.Errorf("%q: %v", field, wrong)
		}
	}
}

func TestCostsAreUsualUntilSaid(t *testing.T) {
	if got := (booking.Business{}).Costs(); got != booking.UsualRunning {
		t.Errorf("never said, they are %+v", got)
	}
	own := booking.Running{Hour: 1}
	if got := (booking.Business{Running: own}).Costs(); got != own {
		t.Errorf("said, they are %+v", got)
	}
}
