package round

import "drawbar/routing/round/internal/search"

// adopt starts a search from a plan made earlier, perhaps for a slightly
// different problem: what still fits stays where it is.
func (d *decoder) adopt(st *search.State, from *Plan) {
	visits, rigs := d.p.visitsByID(), d.p.rigsByID()
	for i := range from.Rounds {
		r, known := rigs[from.Rounds[i].Rig]
		if !known || from.Rounds[i].Day >= d.p.Days {
			continue
		}
		for _, s := range from.Rounds[i].Stops {
			if v, known := visits[s.Visit]; known {
				st.Adopt(v, r, from.Rounds[i].Day, int32(s.Part), int32(s.Parts), s.Begin, s.Done-s.Begin)
			}
		}
	}
	st.Adopted()
}
