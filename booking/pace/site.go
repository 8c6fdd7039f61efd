package pace

import "math"

func (l *Learned) setUp() *Effects    { return &l.SetUp }
func (l *Learned) packDown() *Effects { return &l.PackDown }

// sitePart is a set-up or pack-down with what was learned about such work.
func (m *Model) sitePart(j *Job, base float64, of func(*Learned) *Effects) Part {
	if base == 0 {
		return Part{}
	}
	if m.learned == nil || len(of(m.learned).Mean) == 0 {
		return Part{base, siteCV}
	}
	e := of(m.learned)
	mean, variance, tie := e.place(j.FarmID, j.CrewID)
	variance += e.Cov[0][0] + 2*tie[0]
	factor := math.Exp(e.Mean[0] + mean + variance/2)
	return Part{base * factor, math.Sqrt(math.Expm1(variance + e.Day))}
}
