package view

import (
	"testing"

	"drawbar/booking/pace/kit"
)

func TestKitInWords(t *testing.T) {
	got := NewKit([]kit.Item{
		{What: "Invented drench", Amount: 1838, Unit: "mL", Packs: []kit.Pack{{Size: 1000, Count: 1}, {Size: 500, Count: 2}}, Reckoned: "r", Caution: "c"},
		{What: "needles", Amount: 5, Unit: "pieces"},
	})
	want := []KitLine{{"Invented drench", "1,838 mL", "1 × 1,000 mL and 2 × 500 mL", "r", "c"}, {"needles", "5 pieces", "", "", ""}}
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("%+v", got)
	}
}
