package learn

import (
	"testing"

	"drawbar/booking/pace"
)

// Predicting each docket from those before gets better through the season, and
// its ranges hold about as often as they say.
func TestReplayGetsBetter(t *testing.T) {
	w := newTruth(11, 30)
	dockets := make([]Docket, 600)
	for i := range dockets {
		dockets[i], _ = w.visit(i)
	}
	all, err := Replay(w.model.Priors(), dockets, 100)
	if err != nil || len(all) != 600 {
		t.Fatal(len(all), err)
	}
	first, rest := pace.NewScore(all[:100]), pace.NewScore(all[200:])
	if rest.ErrorShare > 0.65*first.ErrorShare {
		t.Errorf("error %.0f %% at first, %.0f %% later", 100*first.ErrorShare, 100*rest.ErrorShare)
	}
	if rest.Within80 < 0.74 || rest.Within80 > 0.86 { // three standard errors of 400
		t.Errorf("the 80 %% time holds in %.0f %%", 100*rest.Within80)
	}
}

func TestReplayComparesOnlyWhatIsRecorded(t *testing.T) {
	w := newTruth(2, 5)
	d, _ := w.visit(1)
	e, _ := w.model.Estimate(d.Job)
	d.SetUp, d.PackDown = 0, 0
	none := d
	none.Work = 0
	broken := d
	broken.Job.Mobs = nil
	all, err := Replay(w.model.Priors(), []Docket{d, none, broken}, 0)
	if err != nil || len(all) != 1 {
		t.Fatal(len(all), err)
	}
	want := pace.RangeOf(e.Parts.Work, e.Parts.Changes)
	if all[0].Predicted != want || all[0].ID != "1" || all[0].Actual.Minutes()-d.Work > 0.01 {
		t.Errorf("%+v, want %+v", all[0], want)
	}
}
