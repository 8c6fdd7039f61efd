package web_test

import (
	"fmt"

	"drawbar/booking/fault"
	"drawbar/web"
)

func ExampleNew() {
	_, err := web.New(web.Deps{Site: "drawbar.example"})
	fmt.Println(fault.Sentence(err))
	// Output: The address people use has to look like https://example.com, without a path.
}
