package board

import (
	"fmt"
	"time"

	"drawbar/booking/schedule"
	"drawbar/web/view"
)

// figure is one line of the comparison.
type figure struct {
	Name     string
	Now      string
	Planned  string
	Estimate bool
}

// Figures compare the days as they are with the days as planned. Amounts are
// added by the template, which knows the currency.
func (p planPage) Figures() []figure {
	now, then := p.Plan.Before, p.Plan.After
	line := func(name string, of func(schedule.Figures) string) figure {
		return figure{Name: name, Now: of(now), Planned: of(then)}
	}
	all := []figure{
		line("Visits", func(f schedule.Figures) string { return view.Number(f.Visits) }),
		line("Head", func(f schedule.Figures) string { return view.Number(f.Head) }),
		line("Driving", func(f schedule.Figures) string { return view.Duration(time.Duration(f.Driving) * time.Second) }),
		line("Kilometres", func(f schedule.Figures) string { return view.Number(int((f.Metres + 500) / 1000)) }),
		line("Overtime", func(f schedule.Figures) string { return view.Duration(time.Duration(f.Overtime) * time.Second) }),
		line("Nights away", func(f schedule.Figures) string { return view.Number(f.Nights) }),
		line("A day may end in the dark", func(f schedule.Figures) string { return chance(f.Dark) }),
	}
	all[3].Estimate = then.Estimate
	return all
}

// chance is a likelihood in words.
func chance(p float64) string {
	switch {
	case p < 0.005:
		return "hardly"
	case p > 0.995:
		return "surely"
	}
	return fmt.Sprintf("%.0f in 100", p*100)
}
