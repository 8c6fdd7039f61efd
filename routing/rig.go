package routing

// Size is what has to fit along a road. 0 is not known and meets no limit.
type Size struct {
	Kg                    int
	Length, Width, Height int // centimetres
}

// Rig is what travels: the vehicle with the rig on, and the vehicle alone.
type Rig struct{ Train, Alone Size }

// Of is the size of what is driven.
func (r Rig) Of(p Profile) Size {
	if p == Solo {
		return r.Alone
	}
	return r.Train
}

// Roads gives each rig the Router that knows where it fits.
type Roads interface {
	For(Rig) Router
}
