package learn_test

import (
	"fmt"

	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
)

// Five visits to a slow farm are believed most of the way.
func ExampleLearn() {
	job := pace.Job{
		Mobs:   []pace.Mob{{Species: pace.Sheep, Class: pace.Ewe, Head: 200, Services: []string{pace.Drench}}},
		Crew:   pace.Crew{People: 1, Pusher: true},
		FarmID: "Hob Lane", CrewID: "Ann",
	}
	before, _ := pace.DefaultModel().Estimate(job)
	var dockets []learn.Docket
	for i := range 5 {
		dockets = append(dockets, learn.Docket{ID: fmt.Sprint(i), Job: job, Work: 100, SetUp: 40, PackDown: 28})
	}
	result, err := learn.Learn(pace.DefaultPriors(), dockets)
	if err != nil {
		fmt.Println(err)
		return
	}
	model, _ := pace.NewModel(pace.DefaultPriors(), result.Learned)
	after, _ := model.Estimate(job)
	fmt.Printf("%.0f min of work expected before, %.0f after five visits of 100\n",
		before.Parts.Work.Minutes, after.Parts.Work.Minutes)
	// Output: 67 min of work expected before, 102 after five visits of 100
}
