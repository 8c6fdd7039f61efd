package session_test

import (
	"fmt"
	"time"

	"drawbar/booking/fault"
	"drawbar/web/session"
)

func ExampleLimiter() {
	clock := func() time.Time { return time.Date(2027, 3, 8, 7, 0, 0, 0, time.UTC) }
	tries := session.NewLimiter(time.Minute, 1, clock)
	fmt.Println(tries.Allow("ann@example.com"))
	fmt.Println(fault.Sentence(tries.Allow("ann@example.com")))
	// Output:
	// <nil>
	// That was a lot of tries in a short time. Please wait a minute and try again.
}
