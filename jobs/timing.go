package jobs

import "drawbar/booking/pace/learn"

// Timing is what a signed docket says about time; its ID is the docket's.
type Timing struct {
	learn.Docket
	// Settled means nothing more is awaited: packing down comes after signing.
	Settled bool
}
