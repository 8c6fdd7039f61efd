package pace

import (
	"math"
	"time"
)

// Rate is head an hour as it is believed: gamma with mean Alpha/Beta. Counting
// moves it to (Alpha+counted)/(Beta+hours), so at first the estimate speaks and
// after a while the count.
type Rate struct {
	Alpha float64 `json:"alpha"`
	Beta  float64 `json:"beta"` // hours
}

// Of is the mean rate after a count over so many hours.
func (r Rate) Of(counted, hours float64) float64 { return (r.Alpha + counted) / (r.Beta + hours) }

// Rate is what the estimate says of head an hour before the first is counted.
func (e *Estimate) Rate() Rate {
	cv := max(e.Parts.Work.CV, 0.05)
	alpha := 1 / (cv * cv)
	return Rate{alpha, alpha / e.HeadPerHour}
}

// headSpread is the usual coefficient of variation from one head to the next
// (common practice, no source).
const headSpread = 0.35

// Live is a visit while it is counted.
type Live struct {
	HeadPerHour float64
	Left        Range // work left, without breaks
	// Until the work is done, as likely as not and nine times of ten: what is
	// left and the breaks that fall due meanwhile.
	Done, Late time.Duration
}

// After is the pace and the work left when some of the head are counted after
// so much work, pauses left out. Nothing is left when all are counted. Head
// of mobs that differ much may be weighed by how long each takes. Counts are
// taken to vary as a Poisson count does; real ones vary less, so the range is
// rather too wide than too narrow.
func (r Rate) After(counted, head float64, worked time.Duration) Live {
	worked = max(worked, 0)
	alpha, beta := r.Alpha+max(counted, 0), r.Beta+worked.Hours()
	live := Live{HeadPerHour: alpha / beta}
	left := head - counted
	if left <= 0 {
		return live
	}
	spread := math.Sqrt(1/alpha + headSpread*headSpread/left) // of the rate, and of the animals left
	live.Left = LogNormal{math.Log(left / live.HeadPerHour * 60), spread}.minutes()
	live.Done, live.Late = withBreaks(live.Left.Median, worked), withBreaks(live.Left.P90, worked)
	return live
}

// withBreaks is work still to do with its breaks, after some that had its own.
func withBreaks(left, worked time.Duration) time.Duration {
	before := worked.Minutes()
	return left + minutes(breaksIn(before+left.Minutes())-breaksIn(before))
}

// minutes is the range of a time in minutes.
func (l LogNormal) minutes() Range {
	return Range{minutes(l.Mean()), minutes(l.at(0)), minutes(l.at(z80)), minutes(l.at(z90))}
}

// RangeOf is the range of some parts of a visit together, without breaks.
func RangeOf(parts ...Part) Range { return sumOf(parts...).minutes() }
