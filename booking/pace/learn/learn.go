package learn

import (
	"drawbar/booking/pace"
)

// Result is what a set of dockets has taught.
type Result struct {
	Learned *pace.Learned
	Odd     []Odd    // in the order of the dockets
	Unused  []Unused // likewise
}

// Learn works through dockets with a table of base values. The error is a
// *pace.Error about the table.
func Learn(p pace.Priors, dockets []Docket) (Result, error) {
	m, err := pace.NewModel(p, nil)
	if err != nil {
		return Result{}, err
	}
	var out Result
	usable := make([]based, 0, len(dockets))
	work := workPrior(m)
	for i := range dockets {
		d := &dockets[i]
		b, err := m.Basis(d.Job, work.mean)
		if err == nil {
			err = d.checkMinutes()
		}
		if err != nil {
			out.Unused = append(out.Unused, Unused{d.ID, err})
			continue
		}
		usable = append(usable, based{d, b})
	}
	out.Learned = &pace.Learned{
		Work:     workSeason(m, &p, work, usable).learn(&out),
		SetUp:    siteSeason(SetUp, usable).learn(&out),
		PackDown: siteSeason(PackDown, usable).learn(&out),
	}
	return out, nil
}

// based is a docket with what the base values make of its job.
type based struct {
	*Docket
	basis pace.Basis
}
