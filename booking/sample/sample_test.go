package sample_test

import (
	"fmt"
	"testing"
	"time"

	"drawbar/booking"
	"drawbar/booking/sample"

	"cloud.google.com/go/civil"
)

func ExampleBooking() {
	farm := sample.Farm()
	b := sample.Booking(farm, sample.Yard(farm), sample.Mob(120), sample.Mob(30))
	fmt.Println(b.Head(), b.State)
	// Output: 150 asked
}

func TestSamplesPassTheChecks(t *testing.T) {
	farm := sample.Farm()
	yard := sample.Yard(farm)
	b := sample.Booking(farm, yard)
	checks := map[string]error{
		"business": sample.Business().Check(),
		"owner":    sample.Person(booking.Owner).Check(),
		"farm":     farm.Check(),
		"yard":     yard.Check(),
		"rig":      sample.Rig().Check(),
		"booking":  b.Check(booking.ByCode(sample.Services()), sample.Today),
	}
	for _, s := range sample.Services() {
		checks[s.Code] = s.Check()
	}
	for what, err := range checks {
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	if b.FarmID != farm.ID || b.YardID != yard.ID || yard.FarmID != farm.ID || farm.ID == "" {
		t.Error("farm, yard and booking do not belong together")
	}
}

func TestDaysAgree(t *testing.T) {
	local := sample.Morning.In(sample.Business().Location())
	if civil.DateOf(local) != sample.Day || local.Hour() != 8 || sample.Day.Weekday() != time.Monday {
		t.Errorf("the morning of %s, a %s, is %s", sample.Day, sample.Day.Weekday(), local)
	}
	rig, farm := sample.Rig(), sample.Farm()
	v := sample.Visit(sample.Booking(farm, sample.Yard(farm)), rig, sample.Morning)
	if v.Day != sample.Day || v.RigID != rig.ID || v.Leave().Sub(v.Arrive) != 190*time.Minute {
		t.Errorf("visit %+v", v)
	}
}

func TestNamesDiffer(t *testing.T) {
	seen := map[string]bool{}
	for range 3 {
		for _, text := range []string{sample.Rig().Name, sample.Farm().Email, sample.Person(booking.Owner).Email} {
			if seen[text] {
				t.Errorf("two samples are %s", text)
			}
			seen[text] = true
		}
	}
}
