package pace

import "math"

// A working day in runs of about two hours, as shearing sheds keep it: a short
// break, a meal, a short break, then the day is over. Minutes are common
// practice, no source; local rules on hours and breaks come first.
var (
	runMinutes   = 120.0
	breakMinutes = [4]float64{10, 30, 10, 0} // after the first, second, third, fourth run
	// A crew close to the end stops for less: a break is taken in full when half
	// an hour of work or more is left, for a share of it otherwise.
	graceMinutes = 30.0
)

// maxRuns bounds the runs looked at: 40 days of work.
const maxRuns = 160

// breaksIn is the mean minutes of breaks in so many minutes of work. It never
// jumps and never falls.
func breaksIn(minutes float64) float64 {
	sum := 0.0
	for i := range maxRuns {
		due := runMinutes * float64(i+1)
		if minutes <= due {
			break
		}
		sum += breakMinutes[i%4] * min((minutes-due)/graceMinutes, 1)
	}
	return sum
}

// meanBreaks is the mean of breaksIn over a log-normal time of work.
func meanBreaks(work LogNormal) float64 {
	longest := work.at(4)
	sum := 0.0
	for i := range maxRuns {
		due := runMinutes * float64(i+1)
		if due > longest {
			break
		}
		if b := breakMinutes[i%4]; b > 0 {
			sum += b * (work.over(due) - work.over(due+graceMinutes)) / graceMinutes
		}
	}
	return sum
}

// breaksCV is the coefficient of variation of the breaks in a log-normal time
// of work; 0 where there are none.
func breaksCV(work LogNormal) float64 {
	var m1, m2 float64
	for i, x := range quadX {
		b := breaksIn(work.at(x))
		m1 += quadW[i] * b
		m2 += quadW[i] * b * b
	}
	if m1 == 0 {
		return 0
	}
	return math.Sqrt(max(m2-m1*m1, 0)) / m1
}

// WithBreaks is so many minutes of work with the breaks that fall due in them.
func WithBreaks(work float64) float64 { return work + breaksIn(work) }
