package round

import "drawbar/routing"

// drives is the table of one rig's drives, with the rig on or without.
func (p *Problem) drives(r *Rig, solo bool) *routing.Table {
	switch {
	case solo && r.Solo != nil:
		return r.Solo
	case solo:
		return p.Solo
	case r.Towing != nil:
		return r.Towing
	}
	return p.Towing
}

// checkDrives wants a rig's own tables to have the places of the problem's.
func (p *Problem) checkDrives(field string, r *Rig) error {
	for _, own := range []struct {
		name  string
		table *routing.Table
	}{{"towing", r.Towing}, {"solo", r.Solo}} {
		if own.table == nil || own.table == p.Towing || own.table == p.Solo {
			continue
		}
		if err := samePlaces(field+"."+own.name, p.Towing, own.table); err != nil {
			return err
		}
	}
	return nil
}

func samePlaces(field string, a, b *routing.Table) error {
	if a.Len() != b.Len() {
		return bad(field, "All tables need the same places; they have %d and %d.", a.Len(), b.Len())
	}
	for i, place := range a.Places() {
		if other := b.Places()[i].ID; other != place.ID {
			return bad(field, "Place %d is %s in one table and %s in the other.", i, place.ID, other)
		}
	}
	return nil
}
