package schedule_test

import (
	"testing"

	"drawbar/booking/sample"
	"drawbar/booking/schedule"
	"drawbar/routing/round"
)

// A visit that was promised at an hour at which no crew works keeps its day,
// and is found out before the time to plan is spent: the others get all of it.
func TestVisitsThatCannotBeKeptTakeNoTimeFromThePlan(t *testing.T) {
	b := newBench(t)
	early := b.at(b.asked(50, nil), sample.Day, 3*60)
	b.must(b.desk().Fix(t.Context(), early.ID, early.Version))
	waits := b.asked(60, nil)
	begun := 0
	p, err := b.planner.Propose(t.Context(), sample.Day, 7, schedule.Search{Seed: 1, Iterations: 300, Progress: func(r round.Progress) {
		if r.Iteration == 0 {
			begun++
		}
	}})
	b.must(err)
	if begun != 1 {
		t.Errorf("the plan was begun %d times", begun)
	}
	if len(p.Moves) != 1 || p.Moves[0].Booking != waits.ID || len(p.Moves[0].New) == 0 || p.Moves[0].New[0].Day == sample.Day {
		t.Errorf("the other moves %+v", p.Moves)
	}
}
