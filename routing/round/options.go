package round

import "time"

// Options steer a search. The zero value builds a first plan and improves it
// for DefaultIterations. Without a deadline, the same seed and iterations give
// the same plan.
type Options struct {
	Seed       uint64
	Iterations int              // of improvement; 0 = DefaultIterations, negative = none
	Deadline   time.Time        // stop then with the best so far; zero = no deadline
	Now        func() time.Time // the clock for Deadline; nil = time.Now
	Progress   func(Progress)   // called from the searching goroutine, now and then; may be nil
	From       *Plan            // start from this plan instead of from nothing
}

// DefaultIterations is enough for a week of a small business.
const DefaultIterations = 20000

// Progress is how far a search is.
type Progress struct {
	Iteration int
	Placed    int
	Of        int
	Best      Ticks
	Plan      func() Plan // the best so far; call it only inside Progress
}
