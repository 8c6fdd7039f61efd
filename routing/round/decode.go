package round

import (
	"math"

	"drawbar/routing"
	"drawbar/routing/round/internal/search"
)

// decoder turns what a search found back into a Plan.
type decoder struct {
	p *Problem
	c *compiler
	m *search.Model
}

func newDecoder(p *Problem) *decoder {
	c := compile(p)
	return &decoder{p: p, c: c, m: c.m}
}

func (d *decoder) plan(best search.Snapshot) Plan {
	st := search.NewState(d.m)
	st.Load(best)
	var plan Plan
	for r := range d.p.Rigs {
		d.rig(&plan, st, r)
	}
	for i := range d.p.Visits {
		if st.Where(i).Parts == 0 {
			plan.LeftOut = append(plan.LeftOut, LeftOut{Visit: d.p.Visits[i].ID})
		}
	}
	d.p.account(&plan)
	return plan
}

// rig adds a rig's rounds and nights.
func (d *decoder) rig(plan *Plan, st *search.State, r int) {
	rig := &d.p.Rigs[r]
	nights := st.Nights(r)
	var standing *stood
	if rig.Standing != nil {
		standing = &stood{place: rig.Standing.Place, visit: -1, pack: rig.Standing.Pack, setUp: rig.Standing.SetUp, class: rig.Standing.Class}
	}
	for day := range d.p.Days {
		before, after := nights[day], nights[day+1]
		stops := st.Stops(r, day)
		if len(stops) > 0 || before != after {
			w := walker{d: d, r: r, day: day, at: standing, before: before, after: after}
			plan.Rounds = append(plan.Rounds, w.round(stops, st.Run(r, day, before, after)))
			standing = w.at
		}
		if after != search.Home {
			plan.Nights = append(plan.Nights, Night{Rig: rig.ID, Day: day, Place: standing.place, Lodged: after == search.Lodge})
		}
	}
}

// stood is how a rig stands at a place.
type stood struct {
	place string
	visit int   // -1 = before the plan
	pack  int32 // of what stood there before the plan
	setUp bool
	class int
}

// walker goes through one day and notes the times.
type walker struct {
	d             *decoder
	r, day        int
	before, after int
	at            *stood // where the rig stands; nil = home
	now           int32
	out           Round
	var80, var90  int64
}

func (w *walker) rig() *Rig { return &w.d.p.Rigs[w.r] }

func (w *walker) table(solo bool) *routing.Table { return w.d.p.drives(w.rig(), solo) }

func (w *walker) round(stops []search.Stop, run search.Seg) Round {
	w.now = run.Early
	w.out = Round{Rig: w.rig().ID, Day: w.day, Start: w.now, Slack: run.Late - run.Early, Chance: 1}
	if w.before == search.Home {
		w.at = nil
	} else if w.before == search.Solo {
		w.out.Fetch = w.drive(w.table(true), w.rig().Home, w.at.place, true)
		w.now += w.out.Fetch.Seconds
	}
	for i := range stops {
		w.stop(stops, i)
	}
	w.evening()
	w.close()
	return w.out
}

func (w *walker) drive(t *routing.Table, from, to string, solo bool) *Drive {
	i, _ := t.Index(from)
	j, _ := t.Index(to)
	leg := t.At(i, j)
	return &Drive{From: from, To: to, Seconds: leg.Seconds, Metres: leg.Metres, Solo: solo, Estimate: leg.Estimate}
}

// stop goes to the i-th stop and works there.
func (w *walker) stop(stops []search.Stop, i int) {
	s := &stops[i]
	v := &w.d.p.Visits[s.Visit]
	t := v.takes(w.rig(), w.day)
	out := Stop{Visit: v.ID, Part: int(s.Part), Parts: int(s.Parts)}
	ready := w.arrive(&out, v, s)
	out.Arrive = w.now
	if !ready {
		w.now += t.SetUp
	}
	out.Ready = w.now
	out.Begin = max(w.now, s.Early)
	out.Done = out.Begin + s.Work
	w.sure(&out, s, v.takes(w.rig(), w.day+1-out.Part))
	w.now, out.Leave = out.Done, out.Done
	w.at = &stood{place: v.Place, visit: int(s.Visit), setUp: true, class: v.Class}
	w.out.Stops = append(w.out.Stops, out)
}

// arrive packs what stands elsewhere, washes and drives to the visit; it tells
// whether the rig already stands there set up.
func (w *walker) arrive(out *Stop, v *Visit, s *search.Stop) bool {
	if w.at == nil {
		out.Drive = w.drive(w.table(false), w.rig().Home, v.Place, false)
		w.now += out.Drive.Seconds
		return false
	}
	if s.Part > 1 {
		return true
	}
	wash := w.d.p.Hygiene.Between[w.at.class][v.Class]
	if w.at.place == v.Place {
		w.depart(0, wash)
		return w.at.setUp
	}
	w.depart(w.packs(), wash)
	out.Drive = w.drive(w.table(false), w.at.place, v.Place, false)
	w.now += out.Drive.Seconds
	return false
}

// packs is how long the day's crew packs down what stands.
func (w *walker) packs() int32 {
	if w.at.visit < 0 {
		return w.at.pack
	}
	return w.d.p.Visits[w.at.visit].takes(w.rig(), w.day).Pack
}

// depart notes packing and washing where the rig stood: at the last stop of
// the day, or in the morning.
func (w *walker) depart(pack, wash int32) {
	w.now += pack + wash
	if k := len(w.out.Stops); k > 0 {
		last := &w.out.Stops[k-1]
		last.Pack, last.Wash, last.Leave = pack, wash, w.now
		return
	}
	w.out.Pack, w.out.Wash = pack, wash
}

// sure adds the 80 % and 90 % times.
func (w *walker) sure(out *Stop, s *search.Stop, t Times) {
	square := int64(t.Late80) * int64(t.Late80)
	if s.Parts > 1 {
		square = search.Share(square, int64(s.Work), int64(t.Work))
	}
	w.var80 += square
	w.var90 += s.Spread
	out.Done80 = out.Done + search.Root(w.var80)
	out.Done90 = out.Done + search.Root(w.var90)
}

// evening goes to bed.
func (w *walker) evening() {
	switch w.after {
	case search.Home:
		w.depart(w.packs(), w.d.p.Hygiene.Home[w.at.class])
		w.out.Back = w.drive(w.table(false), w.at.place, w.rig().Home, false)
	case search.Solo:
		w.out.Back = w.drive(w.table(true), w.at.place, w.rig().Home, true)
	}
	if w.out.Back != nil {
		w.now += w.out.Back.Seconds
	}
}

// close adds what follows from the times.
func (w *walker) close() {
	rd, out := &w.rig().Days[w.day], &w.out
	out.End = w.now
	out.Duty = out.End - out.Start
	out.Over = max(0, out.End-rd.End)
	if len(out.Stops) == 0 {
		return
	}
	last := &out.Stops[len(out.Stops)-1]
	if w.d.p.Visits[w.at.visit].Lit {
		return
	}
	dusk := w.d.p.Daylight[w.day].To
	out.Late = max(0, last.Done90-dusk)
	out.Chance = chance(dusk-last.Done, last.Done90-last.Done)
}

// z90 is the 90 % quantile of the standard normal distribution.
const z90 = 1.2815515655446004

// chance is how likely it is to be done in time with so much to spare, when
// the 90 % time is so much later than the median (normal errors).
func chance(spare, late90 int32) float64 {
	if late90 == 0 {
		if spare >= 0 {
			return 1
		}
		return 0
	}
	return 0.5 * math.Erfc(-float64(spare)*z90/float64(late90)/math.Sqrt2)
}
