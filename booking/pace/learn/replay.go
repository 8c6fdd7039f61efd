package learn

import (
	"time"

	"drawbar/booking/pace"
)

// Replay predicts every docket from the ones before it, the honest way to score
// learning: what is predicted has never been seen. Dockets are in the order they
// were signed; learning is done again after every block of them. Compared are
// the parts each docket has minutes for, without breaks and wash-down. Dockets
// that cannot be used are left out, as Learn names them.
func Replay(p pace.Priors, dockets []Docket, block int) ([]pace.Outcome, error) {
	var out []pace.Outcome
	for from := 0; from < len(dockets); from += max(block, 1) {
		r, err := Learn(p, dockets[:from])
		if err != nil {
			return nil, err
		}
		m, err := pace.NewModel(p, r.Learned)
		if err != nil {
			return nil, err
		}
		for i := from; i < min(from+max(block, 1), len(dockets)); i++ {
			if o, ok := dockets[i].outcome(m); ok {
				out = append(out, o)
			}
		}
	}
	return out, nil
}

// outcome sets a docket against what a model expects of it.
func (d *Docket) outcome(m *pace.Model) (pace.Outcome, bool) {
	e, err := m.Estimate(d.Job)
	if err != nil || d.checkMinutes() != nil {
		return pace.Outcome{}, false
	}
	var parts []pace.Part
	actual := 0.0
	for _, c := range []struct {
		minutes float64
		parts   []pace.Part
	}{
		{d.Work, []pace.Part{e.Parts.Work, e.Parts.Changes}},
		{d.SetUp, []pace.Part{e.Parts.SetUp}}, {d.PackDown, []pace.Part{e.Parts.PackDown}},
	} {
		if c.minutes > 0 {
			actual += c.minutes
			parts = append(parts, c.parts...)
		}
	}
	if actual == 0 {
		return pace.Outcome{}, false
	}
	return pace.Outcome{
		ID: d.ID, Head: d.Job.Head(), Predicted: pace.RangeOf(parts...),
		Actual: time.Duration(actual * float64(time.Minute)),
	}, true
}
