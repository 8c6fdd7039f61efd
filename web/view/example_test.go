package view_test

import (
	"fmt"
	"time"

	"drawbar/web/view"

	"cloud.google.com/go/civil"
)

func Example() {
	monday := civil.Date{Year: 2027, Month: 3, Day: 8}
	fmt.Println(view.Date(monday))
	fmt.Println(view.Estimate(190*time.Minute, 4*time.Hour))
	fmt.Println(view.Money(40250, "USD"))
	// Output:
	// Mon 8 March
	// about 3 h 10, could be 4 h
	// $402.50
}
