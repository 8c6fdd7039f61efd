package network

// Turn is what kind of turn leads from one arc to the next: its shape, and
// marks for what else costs time there.
type Turn uint8

// Shapes of turns. The four U-turns differ in where they happen: round a
// turning circle or loop; at the end of a road; at a junction with a small
// side road to back into; anywhere else where a car alone would turn.
const (
	Ahead Turn = iota
	Left
	Right
	SharpLeft
	SharpRight
	UCircle
	UDeadEnd
	UBackIn
	UOpen
	Shapes // how many there are
)

// Marks on turns.
const (
	AtSignals Turn = 1 << (4 + iota)
	GiveWay        // to a more important road or a roundabout
	NotTowing      // forbidden with a trailer
	shapeMask Turn = 15
)

// Shape is the turn without its marks.
func (t Turn) Shape() Turn { return t & shapeMask }

// Has tells whether the turn bears a mark.
func (t Turn) Has(mark Turn) bool { return t&mark != 0 }

// IsU tells whether the turn goes back the way it came.
func (t Turn) IsU() bool { return t.Shape() >= UCircle }

// Angles, in degrees off straight ahead, up to which a turn is no turn and an
// ordinary one. Common practice, no source.
const (
	aheadAngle = 35
	sharpAngle = 110
)

// shapeOf sorts a turn by its angle, positive to the left.
func shapeOf(degrees float64) Turn {
	switch {
	case degrees > sharpAngle:
		return SharpLeft
	case degrees < -sharpAngle:
		return SharpRight
	case degrees > aheadAngle:
		return Left
	case degrees < -aheadAngle:
		return Right
	}
	return Ahead
}

// uTurn tells how to turn round at the end of an arc, if at all.
func (b *builder) uTurn(arc int32, v int32) (Turn, bool) {
	kind := b.r.KindOf(arc)
	switch {
	case b.r.At[v]&TurningPlace != 0:
		return UCircle, true
	case b.arms[v] == 1:
		return UDeadEnd, true
	case b.arms[v] < 3 || kind.Class < Secondary || kind.Has(Dual):
		return 0, false
	case kind.Class >= Tertiary && b.sideRoad(arc, v):
		return UBackIn, true
	}
	return UOpen, true
}

// sideRoad tells whether a small road other than the arc's own meets v.
func (b *builder) sideRoad(arc, v int32) bool {
	for _, out := range b.out(v) {
		if c := b.r.KindOf(out).Class; out>>1 != arc>>1 && c >= Service && c <= Track {
			return true
		}
	}
	return false
}

// turn describes the turn between two different roads at v.
func (b *builder) turn(from, to, v int32) Turn {
	var t Turn
	if b.arms[v] > 2 {
		t = b.shape(from, to)
	}
	switch {
	case b.r.At[v]&Signals != 0:
		t |= AtSignals
	case b.givesWay(from, to, v):
		t |= GiveWay
	}
	return t
}

func (b *builder) shape(from, to int32) Turn {
	back, ok := b.leaving[from^1], b.hasBearing(from^1) && b.hasBearing(to)
	if !ok {
		return Ahead
	}
	degrees := float64(b.leaving[to]-back)*360/bearings - 180
	for degrees <= -180 {
		degrees += 360
	}
	for degrees > 180 {
		degrees -= 360
	}
	return shapeOf(degrees)
}

// givesWay tells whether a driver has to wait for others when leaving from.
func (b *builder) givesWay(from, to, v int32) bool {
	a, z := b.r.KindOf(from), b.r.KindOf(to)
	if z.Has(Roundabout) && !a.Has(Roundabout) {
		return true
	}
	top := b.top[v]
	return top < a.Class && top > Motorway && top <= Tertiary && !a.Has(Link)
}
