package round_test

import (
	"errors"
	"testing"

	"drawbar/routing/round"
)

// Times are those of a rig, or of a crew that goes with one on some day.
func TestTimesAreOfRigsAndCrews(t *testing.T) {
	for name, known := range map[string]bool{"B": true, "some": true, "": false, "others": false} {
		p := threeDays()
		p.Rigs[0].Days[1].Crew = "some"
		p.Visits[0].Times[name] = round.Times{Work: hour}
		var bad *round.InputError
		switch err := p.Check(); {
		case known && err != nil:
			t.Errorf("%q: %v", name, err)
		case !known && (!errors.As(err, &bad) || bad.Field != "visits[0].times["+name+"]"):
			t.Errorf("%q: %v", name, err)
		}
	}
}
