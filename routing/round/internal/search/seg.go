package search

// Seg is a run of stops in driving order: how long it takes, how late it is at
// the least (time warp: seconds one would have to turn back the clock), and
// the earliest and latest start for which both hold.
type Seg struct{ Dur, Warp, Early, Late int32 }

// far is later than any time; sums of a few stay within int32.
const far = 1 << 26

// join is the run of a, a drive of that many seconds, and b (Vidal et al.
// 2013, equations for concatenation).
func join(a Seg, drive int32, b Seg) Seg {
	span := a.Dur - a.Warp + drive
	wait := max(0, b.Early-span-a.Late)
	warp := max(0, a.Early+span-b.Late)
	return Seg{
		Dur:   a.Dur + b.Dur + drive + wait,
		Warp:  a.Warp + b.Warp + warp,
		Early: max(b.Early-span, a.Early) - wait,
		Late:  min(b.Late-span, a.Late) + warp,
	}
}

// finish is when the run ends at the earliest.
func (s Seg) finish() int32 { return s.Early + s.Dur }
