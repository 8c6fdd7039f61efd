package schedule_test

import (
	"fmt"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/booking/pace"
	"drawbar/booking/pace/kit"
	"drawbar/booking/sample"
	"drawbar/booking/schedule"

	"pgregory.net/rapid"
)

func kitOf(t interface{ Fatal(...any) }, mobs []booking.Mob, services ...booking.Service) map[string]kit.Item {
	farm := sample.Farm()
	yard := sample.Yard(farm)
	p := schedule.Planner{Pace: pace.NewCurrent(pace.DefaultModel())}
	items, err := p.Kit(sample.Booking(farm, yard, mobs...), farm, yard, sample.Rig(), booking.ByCode(services))
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string]kit.Item{}
	for _, i := range items {
		byName[i.What] = i
	}
	return byName
}

// 70 kg at 0.2 mg a kg and 0.8 mg in a mL is 17.5 mL (worked example of dose
// arithmetic in extension handouts): 100 head need 1750 mL, with a twentieth
// over 1837.5, in packs of a litre two.
func TestKitDosesByTheLabel(t *testing.T) {
	mob := sample.Mob(100)
	mob.Weights = []booking.WeightClass{{Head: 100, Kg: 70}}
	drench := booking.Service{Code: "drench", Name: "Drench", Product: "Invented drench", MgPerKg: 0.2, MgPerML: 0.8, Packs: []int{1000}}
	got := kitOf(t, []booking.Mob{mob}, drench, booking.Service{Code: "inject", Name: "Injection", Product: "Not booked", MLPerHead: 2, Packs: []int{100}})
	item := got["Invented drench"]
	if item.Amount != 1838 || fmt.Sprint(item.Packs) != "[{1000 2}]" || !strings.HasSuffix(item.Caution, "Follow the label and your vet.") {
		t.Errorf("%+v", item)
	}
	if _, found := got["Not booked"]; found {
		t.Error("a product of a service that is not booked is loaded")
	}
}

// Without a product no volume is named; without weights the guess says so.
func TestKitInventsNoDose(t *testing.T) {
	mob := sample.Mob(100)
	if got := kitOf(t, []booking.Mob{mob}); got["product for drenching"].Unit != "doses" {
		t.Errorf("%+v", got)
	}
	drench := booking.Service{Code: "drench", Name: "Drench", Product: "Invented drench", MgPerKg: 0.2, MgPerML: 0.8, Packs: []int{1000}}
	if got := kitOf(t, []booking.Mob{mob}, drench)["Invented drench"]; !strings.Contains(got.Caution, "is a guess") {
		t.Errorf("%+v", got)
	}
}

// Whatever the forms let through makes a list.
func TestKitOfAnythingThatPassesTheChecks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		code := rapid.SampledFrom(booking.Medicated).Draw(t, "code")
		s := booking.Service{
			Code: code, Name: "Given", Offered: true, Product: rapid.StringMatching(`[A-Z][a-z ]{0,99}`).Draw(t, "product"),
			MgPerKg: rapid.Float64Range(0, 1001).Draw(t, "mg a kg"), MgPerML: rapid.Float64Range(0, 1001).Draw(t, "mg a mL"),
			Packs: rapid.SliceOfN(rapid.IntRange(1, 100_000), 0, 11).Draw(t, "packs"),
		}
		if rapid.Bool().Draw(t, "a head") {
			s.MgPerKg, s.MgPerML, s.MLPerHead = 0, 0, rapid.Float64Range(0, 1001).Draw(t, "mL a head")
		}
		m := booking.Mob{Class: rapid.SampledFrom(booking.Classes).Draw(t, "class"), Head: rapid.IntRange(1, 3000).Draw(t, "head"), Services: []string{code}}
		if light := rapid.IntRange(0, 3000).Draw(t, "light"); light > 0 {
			m.Weights = []booking.WeightClass{{Head: light, Kg: rapid.Float64Range(0, 301).Draw(t, "kg")}, {Head: m.Head - light, Kg: 80}}
		}
		m.Species = m.Class.Species()
		if s.Check() != nil || len(m.Check(booking.ByCode([]booking.Service{s}))) > 0 {
			t.Skip("the forms refuse it")
		}
		if got := kitOf(t, []booking.Mob{m}, s); len(got) < 3 {
			t.Fatalf("only %v", got)
		}
	})
}
