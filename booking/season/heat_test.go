package season_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"drawbar/booking/fault"
	"drawbar/booking/season"
)

func ExampleTHI() {
	fmt.Printf("%.2f\n", season.THI(24, 80))
	// Output: 73.28
}

// The first row agrees with the 73 of the Australian veterinary handbook's
// chart; the others are the same formula worked by hand.
func TestTHI(t *testing.T) {
	for _, c := range []struct{ celsius, humidity, want float64 }{
		{24, 80, 73.28}, {25, 50, 71.70}, {30, 40, 76.64}, {30, 70, 81.32}, {35, 30, 80.58},
	} {
		if got := season.THI(c.celsius, c.humidity); math.Abs(got-c.want) > 0.005 {
			t.Errorf("THI(%g, %g) = %.2f, want %.2f", c.celsius, c.humidity, got, c.want)
		}
	}
}

// Bands: Livestock Weather Hazard Guide (alert from 75, danger 79, emergency
// 84), for cattle. Comfort of sheep up to 25 degrees: Western Australia 2022.
func TestHeatAdvice(t *testing.T) {
	for _, c := range []struct {
		celsius, humidity float64
		band              season.HeatBand
		says              string
	}{
		{10, 90, season.HeatNormal, "No need"},
		{24, 80, season.HeatNormal, "No need"},
		{25, 50, season.HeatNormal, "water and shade"},
		{30, 40, season.HeatAlert, "cool of the morning"},
		{30, 70, season.HeatDanger, "open-mouthed panting"},
		{40, 60, season.HeatEmergency, "another day"},
	} {
		heat, err := season.HeatAdvice(c.celsius, c.humidity)
		if err != nil || heat.Band != c.band || !strings.Contains(heat.Says, c.says) {
			t.Errorf("%g/%g: %s, %q, %v", c.celsius, c.humidity, heat.Band, heat.Says, err)
		}
		if !strings.Contains(heat.Basis, "cattle") {
			t.Errorf("does not say that the bands are for cattle: %q", heat.Basis)
		}
	}
}

func TestHeatAdviceNamesWhatIsWrong(t *testing.T) {
	for field, in := range map[string][2]float64{
		"temperature": {95, 50}, // Fahrenheit, most likely
		"humidity":    {25, 120},
	} {
		_, err := season.HeatAdvice(in[0], in[1])
		if !fault.Is(err, fault.Invalid) || fault.FieldsOf(err)[field] == "" {
			t.Errorf("%v: %v", in, err)
		}
	}
	if _, err := season.HeatAdvice(math.NaN(), math.NaN()); len(fault.FieldsOf(err)) != 2 {
		t.Errorf("not a number: %v", err)
	}
}
