package pace_test

import (
	"fmt"

	"drawbar/booking/pace"
)

func ExampleModel_Estimate() {
	job, err := pace.ParseJob([]byte(pace.Example))
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := pace.DefaultModel().Estimate(job)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(e.Total.Words())
	for _, sentence := range e.Drivers {
		fmt.Println("-", sentence)
	}
	// Output:
	// about 7 h 30, could be 10 h 45
	// - Foot checking takes 49 % of the time at the crate.
	// - Setting up takes about 35 min with one person.
}
