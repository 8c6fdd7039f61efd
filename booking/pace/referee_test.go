package pace

import (
	"math"
	"math/rand/v2"
	"slices"
)

// The referee plays a visit head by head, event by event, and shares only the
// table of base values and factors with the closed model: nothing is averaged,
// every time is drawn.

// referee holds the dice and a pool of unit-mean times to draw from.
type referee struct {
	rng   *rand.Rand
	units []float64 // log-normal with mean 1 and the head-to-head spread
	walks []float64 // the same with walkCV
}

func newReferee(seed uint64, headCV float64) *referee {
	r := &referee{rng: rand.New(rand.NewPCG(seed, 7))}
	r.units, r.walks = r.pool(headCV), r.pool(walkCV)
	return r
}

// pool draws 8192 times and sets their mean to 1.
func (r *referee) pool(cv float64) []float64 {
	out := make([]float64, 8192)
	sum := 0.0
	for i := range out {
		out[i] = r.unit(cv, r.rng.NormFloat64())
		sum += out[i]
	}
	for i := range out {
		out[i] *= float64(len(out)) / sum
	}
	return out
}

// unit is a log-normal time of mean 1 at a normal point.
func (r *referee) unit(cv, z float64) float64 { return FromMeanCV(1, cv).at(z) }

func (r *referee) head() float64 { return r.units[r.rng.IntN(len(r.units))] }

// fate is everything about a visit that is settled before the first head.
type fate struct {
	key                      vec // multipliers of services and motions
	place                    float64
	setUp, pack, wash, shift float64
}

// fates draws n of them, stratified in each thing so that fewer visits prove
// as much (Latin hypercube).
func (r *referee) fates(n int, vars *vec, p *Priors) []fate {
	place := math.Sqrt(math.Expm1(logVar(p.Farm) + logVar(p.Crew) + logVar(p.Day)))
	out := make([]fate, n)
	for k := range vars {
		cv := math.Sqrt(math.Expm1(vars[k]))
		r.strata(n, cv, func(i int, x float64) { out[i].key[k] = x })
	}
	r.strata(n, place, func(i int, x float64) { out[i].place = x })
	r.strata(n, siteCV, func(i int, x float64) { out[i].setUp = x })
	r.strata(n, siteCV, func(i int, x float64) { out[i].pack = x })
	r.strata(n, siteCV, func(i int, x float64) { out[i].wash = x })
	r.strata(n, changesCV, func(i int, x float64) { out[i].shift = x })
	return out
}

func (r *referee) strata(n int, cv float64, set func(i int, x float64)) {
	for i, cell := range r.rng.Perm(n) {
		u := (float64(cell) + r.rng.Float64()) / float64(n)
		set(i, r.unit(cv, math.Sqrt2*math.Erfinv(2*u-1)))
	}
}

// crateSeconds plays one head at the crate.
func (r *referee) crateSeconds(t *table, j *Job, m *Mob, f *fate, people int) float64 {
	class := classIndex[m.Class]
	catch := t.seconds[keyHandling][class] * f.key[keyHandling] * r.head()
	var front, back, whole float64
	tilt := false
	for _, code := range m.Services {
		k, _ := keyOf(code)
		s := t.seconds[k][class] * f.key[k] * r.head()
		if code == Sort {
			if m.Gates == 3 {
				s *= thirdGateFactor
			}
			if j.Rig.PoweredGates < max(m.Gates, 2)-1 {
				s *= handGateFactor
			}
		}
		switch services[k].Station {
		case Front:
			front += s
		case Back:
			back += s
		default:
			whole += s
		}
		tilt = tilt || services[k].NeedsTilt
	}
	both := front + back
	if people > 1 {
		catch, whole, both = catch*secondAtCatch, whole*secondAtWhole, math.Max(front, back)
	}
	seconds := catch + whole + both
	if tilt {
		seconds += tiltSeconds * f.key[keyHandling] * r.head()
	}
	if m.Horned {
		seconds *= hornedFactor
	}
	if m.FullWool {
		seconds *= fullWoolFactor
	}
	if m.AsTheyCome && r.loose(m) {
		seconds *= looseFactor
	}
	return seconds
}

// loose draws an animal and tells whether the walls, set for the widest of the
// mob, hold it loosely.
func (r *referee) loose(m *Mob) bool {
	widest := 0
	for _, lot := range m.Lots {
		widest = max(widest, lot.Size)
	}
	n := r.rng.IntN(m.Head)
	for _, lot := range m.Lots {
		if n < lot.Head {
			return lot.Size+1 < widest
		}
		n -= lot.Head
	}
	return false
}

func (r *referee) pushSeconds(t *table, m *Mob, f *fate) float64 {
	s := t.seconds[keyPush][classIndex[m.Class]] * f.key[keyPush] * r.head()
	if m.LambsAtFoot {
		s *= lambsFactor
	}
	return s
}

// slow is how much longer head number i of a mob new to the crate takes.
func slow(j *Job, m *Mob, i int) float64 {
	if !m.NewToCrate {
		return 1
	}
	after := newHead
	if j.Rig.CalmPanel {
		after = newHeadCalm
	}
	return 1 + (newFactor-1)*math.Exp(-float64(i)/after)
}

// alone plays a mob worked by hands that also push: walk back, fill the race,
// work it empty.
func (r *referee) alone(t *table, j *Job, m *Mob, f *fate, people int) float64 {
	clock := 0.0
	for i := range m.Head {
		if i%j.Rig.LeadUpPlaces == 0 {
			clock += walkSeconds * f.key[keyPush] * r.walks[r.rng.IntN(len(r.walks))]
		}
		clock += slow(j, m, i) * (r.pushSeconds(t, m, f) + r.crateSeconds(t, j, m, f, people))
	}
	return clock
}

// pushed plays a mob with somebody pushing while somebody works.
func (r *referee) pushed(t *table, j *Job, m *Mob, f *fate, people int) float64 {
	return twoStations(m.Head, j.Rig.LeadUpPlaces, func(i int) (float64, float64) {
		s := slow(j, m, i)
		return s * r.pushSeconds(t, m, f), s * r.crateSeconds(t, j, m, f, people)
	})
}

// twoStations is when the last of n head leaves: one station feeds another
// through a race of b places. A head waits at the first station while the race
// is full; the second waits while it is empty.
func twoStations(n, b int, draw func(i int) (first, second float64)) float64 {
	entered := make([]float64, n) // when each head entered the second station
	racing, free := 0.0, 0.0      // first station done with the last head; second free
	for i := range n {
		push, work := draw(i)
		racing += push
		if i >= b {
			racing = math.Max(racing, entered[i-b])
		}
		entered[i] = math.Max(racing, free)
		free = entered[i] + work
	}
	return free
}

// visit plays a whole visit in minutes.
func (r *referee) visit(m *Model, j *Job, e *Estimate, ways []hands, f *fate) float64 {
	seconds := 0.0
	for i := range j.Mobs {
		if ways[i].pusher {
			seconds += r.pushed(m.table, j, &j.Mobs[i], f, ways[i].crate)
		} else {
			seconds += r.alone(m.table, j, &j.Mobs[i], f, ways[i].crate)
		}
	}
	active := seconds*f.place/60 + e.Parts.Changes.Minutes*f.shift +
		setUpMinutes(j)*f.setUp + packDownMinutes(j)*f.pack + washDownMinutes(j)*f.wash
	return active + r.breaks(active)
}

// breaks walks through the day minute by minute: when a run ends the crew
// looks at the work still left and stops for the whole break if that is more
// than the grace, for a share of it otherwise.
func (r *referee) breaks(active float64) float64 {
	sum, run := 0.0, 0
	for left := active - runMinutes; left > 0; left -= runMinutes {
		sum += breakMinutes[run%len(breakMinutes)] * math.Min(1, left/graceMinutes)
		run++
	}
	return sum
}

// play repeats a visit and gives the mean and the 90 % time in minutes.
func (r *referee) play(m *Model, j Job, e *Estimate, n int) (mean, p90 float64) {
	w := m.lineWork(&j, &m.start)
	ways := make([]hands, len(w.cross))
	for i := range w.cross {
		ways[i] = w.cross[i].way
	}
	times := make([]float64, n)
	for i, f := range r.fates(n, &m.table.vars, &m.priors) {
		times[i] = r.visit(m, &j, e, ways, &f)
		mean += times[i] / float64(n)
	}
	slices.Sort(times)
	return mean, times[n*9/10]
}
