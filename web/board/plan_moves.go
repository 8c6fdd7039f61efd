package board

import (
	"drawbar/booking/schedule"
	"drawbar/web/view"
)

// moves are those of a plan that are worth reading, or those by a few minutes.
type moves struct {
	Slight bool
	Moves  []schedule.Move
}

// Moves are first what matters, then what shifts by minutes only.
func (p planPage) Moves() (all []moves) {
	groups := [2]moves{{}, {Slight: true}}
	for _, m := range p.Plan.Moves {
		g := &groups[0]
		if m.Slight() {
			g = &groups[1]
		}
		g.Moves = append(g.Moves, m)
	}
	for _, g := range groups {
		if len(g.Moves) > 0 {
			all = append(all, g)
		}
	}
	return all
}

// Most is the most that a slight move shifts a visit by.
func (moves) Most() string { return view.Duration(schedule.Slightly) }
