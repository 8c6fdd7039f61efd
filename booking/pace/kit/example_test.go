package kit_test

import (
	"fmt"

	"drawbar/booking/pace"
	"drawbar/booking/pace/kit"
)

func ExampleList() {
	list, err := kit.List(kit.Input{
		Job: pace.Job{
			Mobs: []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 120, Services: []string{pace.Drench, pace.EarTag}}},
			Crew: pace.Crew{People: 1},
		},
		Products:  []kit.Product{{Name: "drench A", Service: pace.Drench, MgPerKg: 0.2, MgPerML: 0.8, Packs: []int{1000, 2500}}},
		Weights:   []kit.WeightClass{{Mob: 0, Head: 120, HeaviestKg: 70}},
		WorkHours: 2.5,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, item := range list {
		fmt.Printf("%s: %.0f %s (%s)\n", item.What, item.Amount, item.Unit, item.Reckoned)
	}
	// Output:
	// drench A: 2205 mL (120 head to 70 kg × 17.50 mL; 5 % over)
	// ear tags: 126 pieces (120 head and 5 % over)
	// disinfectant, ready mixed: 20 L (rig, tools and boots at hygiene class 0)
	// fuel for the compressor: 4 L (2.5 h × 1.2 L an hour and 25 % in reserve)
}
