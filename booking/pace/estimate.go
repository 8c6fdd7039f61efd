package pace

import "time"

// Part is one part of a visit.
type Part struct {
	Minutes float64 // mean
	CV      float64 // coefficient of variation
}

// Parts are the minutes of a visit in the order they happen. Their means add
// up to the mean of the total.
type Parts struct {
	SetUp    Part `json:"set_up"`
	Work     Part `json:"work"`
	Changes  Part `json:"changes"` // walls, gates, and bringing up the next mob
	Breaks   Part `json:"breaks"`
	PackDown Part `json:"pack_down"`
	WashDown Part `json:"wash_down"`
}

// Range is a time and how sure it is.
type Range struct {
	Mean   time.Duration
	Median time.Duration // half of such visits are over by then
	P80    time.Duration // four of five
	P90    time.Duration // nine of ten
}

// MobPace is the pace of one mob.
type MobPace struct {
	Minutes        float64 // mean
	SecondsPerHead float64
	HeadPerHour    float64
}

// Estimate is how long a job takes.
type Estimate struct {
	Parts   Parts `json:"parts"`
	Total   Range `json:"total"`   // from arrival to departure
	Working Range `json:"working"` // work, changes and breaks: what may be split over days
	// HeadPerHour is head of all mobs over mean work, each head counted once.
	HeadPerHour float64   `json:"head_per_hour"`
	Mobs        []MobPace `json:"mobs"`  // as in the job
	Order       []Step    `json:"order"` // working order with wall positions
	WallChanges int       `json:"wall_changes"`
	Drivers     []string  `json:"drivers"` // the two or three things that drive the time, as sentences
}

// Minutes of changes between lots and mobs. Common practice, no source.
const (
	wallMinutes = 0.5 // one wall, front or back
	gateMinutes = 2.0 // sort gates set for another mob
	nextMinutes = 4.0 // the next mob into the forcing pen
	changesCV   = 0.4
)

// Estimate says how long the job takes. The error is an *Error that names the
// field.
func (m *Model) Estimate(j Job) (Estimate, error) {
	if err := j.check(); err != nil {
		return Estimate{}, err
	}
	b := m.belief(&j)
	w := m.lineWork(&j, b)
	var e Estimate
	e.Order, e.WallChanges = planWalls(parts(j.Mobs))
	e.Parts.SetUp = m.sitePart(&j, setUpMinutes(&j), (*Learned).setUp)
	e.Parts.PackDown = m.sitePart(&j, packDownMinutes(&j), (*Learned).packDown)
	e.Parts.WashDown = partOf(washDownMinutes(&j), siteCV)
	e.Parts.Changes = partOf(e.changeMinutes(&j), changesCV)
	e.Parts.Work = Part{w.log.Mean(), w.log.CV()}
	e.addUp()
	e.paces(&j, &w, b.common)
	e.Drivers = e.drivers(&j, &w)
	return e, nil
}

func partOf(minutes, cv float64) Part {
	if minutes == 0 {
		return Part{}
	}
	return Part{minutes, cv}
}

func (e *Estimate) changeMinutes(j *Job) float64 {
	minutes := wallMinutes * float64(e.WallChanges)
	for i := 1; i < len(e.Order); i++ {
		before, now := e.Order[i-1].Mob, e.Order[i].Mob
		if before == now {
			continue
		}
		minutes += nextMinutes
		if j.Mobs[before].ways() != j.Mobs[now].ways() {
			minutes += gateMinutes
		}
	}
	return minutes
}

// ways is how many ways a mob is sorted, 1 for not at all.
func (m *Mob) ways() int {
	if oneOf(Sort, m.Services...) {
		return max(m.Gates, 2)
	}
	return max(m.Gates, 1)
}

// addUp joins the parts: the time the crew is active is log-normal with the
// mean and variance of the parts; breaks follow from it.
func (e *Estimate) addUp() {
	p := &e.Parts
	working := sumOf(p.Work, p.Changes)
	active := sumOf(p.Work, p.Changes, p.SetUp, p.PackDown, p.WashDown)
	p.Breaks.Minutes = meanBreaks(active)
	rest := func(z float64) float64 { return breaksIn(active.at(z)) }
	e.Total = Range{
		minutes(active.Mean() + p.Breaks.Minutes),
		minutes(active.at(0) + rest(0)), minutes(active.at(z80) + rest(z80)), minutes(active.at(z90) + rest(z90)),
	}
	e.Working = Range{
		minutes(working.Mean() + p.Breaks.Minutes),
		minutes(working.at(0) + rest(0)), minutes(working.at(z80) + rest(z80)), minutes(working.at(z90) + rest(z90)),
	}
	p.Breaks.CV = breaksCV(active)
}

func sumOf(parts ...Part) LogNormal {
	mean, variance := 0.0, 0.0
	for _, p := range parts {
		mean += p.Minutes
		variance += p.Minutes * p.Minutes * p.CV * p.CV
	}
	return fromMoments(mean, variance)
}

func (e *Estimate) paces(j *Job, w *work, common float64) {
	e.Mobs = make([]MobPace, len(w.mobs))
	for i, l := range w.mobs {
		s := l.mean * common
		n := float64(j.Mobs[i].Head)
		e.Mobs[i] = MobPace{s / 60, s / n, 3600 * n / s}
	}
	e.HeadPerHour = 60 * float64(j.Head()) / e.Parts.Work.Minutes
}

func minutes(m float64) time.Duration {
	return time.Duration(m * float64(time.Minute)).Round(time.Second)
}
