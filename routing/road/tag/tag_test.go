package tag_test

import (
	"fmt"
	"math"
	"testing"

	"drawbar/routing/road/tag"
)

type tags map[string]string

func (t tags) Find(key string) string { return t[key] }

type reading struct {
	in   string
	want float64
	ok   bool
}

func checkReadings(t *testing.T, name string, read func(string) (float64, bool), table []reading) {
	t.Helper()
	for _, r := range table {
		got, ok := read(r.in)
		if ok != r.ok || ok && math.Abs(got-r.want) > 1e-9 {
			t.Errorf("%s(%q) = %v, %v; want %v, %v", name, r.in, got, ok, r.want, r.ok)
		}
	}
}

// Values and units from the OpenStreetMap wiki pages Key:maxspeed,
// Map features/Units, Key:maxweight, Key:incline and Key:duration; conversion
// factors are the international definitions (1 mile = 1.609344 km,
// 1 ft = 0.3048 m, 1 lb = 0.45359237 kg).

func TestSpeed(t *testing.T) {
	checkReadings(t, "Speed", tag.Speed, []reading{
		{"80", 80, true}, {"50 mph", 80.4672, true}, {"30mph", 48.28032, true}, {"10 knots", 18.52, true},
		{"none", 0, false}, {"GB:rural", 0, false}, {"", 0, false}, {"-5", 0, false}, {"0", 0, false}, {"50;60", 0, false}, {"1e9", 0, false},
	})
	if kmh, ok := tag.Speed("walk"); !ok || kmh < 4 || kmh > 10 {
		t.Errorf("walking pace read as %v, %v", kmh, ok) // German courts read Schrittgeschwindigkeit as 4 to 10 km/h (from memory)
	}
}

func TestLength(t *testing.T) {
	checkReadings(t, "Length", tag.Length, []reading{
		{"2.5", 2.5, true}, {"2.5 m", 2.5, true}, {"250 cm", 2.5, true}, {"12'6\"", 3.81, true}, {"7'", 2.1336, true},
		{"12' 6\"", 3.81, true}, {"8 ft", 2.4384, true}, {"0.6 mi", 965.6064, true},
		{"default", 0, false}, {"below_default", 0, false}, {"2,5", 0, false}, {"'", 0, false}, {"5'x\"", 0, false},
	})
}

func TestMass(t *testing.T) {
	checkReadings(t, "Mass", tag.Mass, []reading{
		{"7.5", 7500, true}, {"3.5 t", 3500, true}, {"1600 kg", 1600, true}, {"10 st", 9071.8474, true},
		{"16000 lbs", 7257.47792, true}, {"18 lt", 18288.8443584, true}, {"unsigned", 0, false}, {"0", 0, false},
	})
}

func TestIncline(t *testing.T) {
	checkReadings(t, "Incline", tag.Incline, []reading{
		{"10%", 10, true}, {"-8 %", -8, true}, {"12", 12, true}, {"up", 0, false}, {"down", 0, false}, {"400%", 0, false}, {"10 m", 0, false},
	})
	if got, ok := tag.Incline("5°"); !ok || math.Abs(got-8.7489) > 1e-3 { // tan 5° = 0.087489
		t.Errorf("5° read as %v %%, %v", got, ok)
	}
}

func TestMinutes(t *testing.T) {
	checkReadings(t, "Minutes", tag.Minutes, []reading{
		{"20", 20, true}, {"1:25", 85, true}, {"01:25:30", 85.5, true}, {"00:20", 20, true}, {"70 min", 70, true},
		{"PT20M", 0, false}, {"1:2:3:4", 0, false}, {"", 0, false},
	})
}

func TestConditions(t *testing.T) {
	// Form and examples: wiki, Conditional restrictions.
	got := tag.Clauses("60 @ (trailer); 120 @ (06:00-20:00; Sa 06:00-14:00); 50 @ (wet AND weight>3.5); nonsense; @ (x)")
	if len(got) != 3 {
		t.Fatalf("clauses %v", got)
	}
	if got[0].Value != "60" || !got[0].TrailerOnly() {
		t.Errorf("first clause %v", got[0])
	}
	if got[1].TrailerOnly() || got[2].TrailerOnly() || len(got[2].Conditions) != 2 {
		t.Errorf("later clauses %v", got[1:])
	}
}

func TestMotorCarTakesTheMostParticularTag(t *testing.T) {
	for _, c := range []struct {
		tags tags
		want tag.Access
		said bool
	}{
		{tags{}, tag.Closed, false},
		{tags{"access": "private"}, tag.LegOnly, true},
		{tags{"access": "no", "motor_vehicle": "agricultural;forestry"}, tag.LegOnly, true},
		{tags{"vehicle": "no", "motorcar": "yes"}, tag.Through, true},
		{tags{"access": "yes", "motor_vehicle": "no"}, tag.Closed, true},
		{tags{"motor_vehicle": "gibberish", "access": "destination"}, tag.LegOnly, true},
	} {
		if got, said := tag.MotorCar(c.tags); got != c.want || said != c.said {
			t.Errorf("%v: %v, %v; want %v, %v", c.tags, got, said, c.want, c.said)
		}
	}
	if got, said := tag.MotorCarWay(tags{"motor_vehicle:backward": "no"}, "backward"); got != tag.Closed || !said {
		t.Errorf("backward: %v, %v", got, said)
	}
}

func TestOneWay(t *testing.T) {
	for _, c := range []struct {
		tags tags
		want tag.Direction
	}{
		{tags{"highway": "primary"}, tag.Both},
		{tags{"oneway": "yes"}, tag.Forward},
		{tags{"oneway": "-1"}, tag.Backward},
		{tags{"highway": "motorway"}, tag.Forward},
		{tags{"highway": "motorway", "oneway": "no"}, tag.Both},
		{tags{"junction": "roundabout"}, tag.Forward},
		{tags{"oneway": "yes", "oneway:motor_vehicle": "no"}, tag.Both},
		{tags{"oneway": "reversible"}, tag.Both},
	} {
		if got := tag.OneWay(c.tags); got != c.want {
			t.Errorf("%v: %v, want %v", c.tags, got, c.want)
		}
	}
}

func FuzzValues(f *testing.F) {
	for _, s := range []string{"50 mph", "12'6\"", "3.5 t", "-8 %", "1:25", "60 @ (trailer); 50 @ (wet AND x)", "((((", "'", "٣"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, v string) {
		for name, read := range map[string]func(string) (float64, bool){"Speed": tag.Speed, "Length": tag.Length, "Mass": tag.Mass, "Minutes": tag.Minutes} {
			if got, ok := read(v); ok && (got <= 0 || math.IsInf(got, 0) || math.IsNaN(got)) {
				t.Errorf("%s(%q) = %v", name, v, got)
			}
		}
		if got, ok := tag.Incline(v); ok && math.Abs(got) > 100 {
			t.Errorf("Incline(%q) = %v", v, got)
		}
		for _, c := range tag.Clauses(v) {
			if c.Value == "" {
				t.Errorf("Clauses(%q) has an empty value", v)
			}
		}
	})
}

func ExampleSpeed() {
	kmh, ok := tag.Speed("50 mph")
	fmt.Printf("%.1f %v\n", kmh, ok)
	// Output: 80.5 true
}
