package pace

import "math"

// Model turns jobs into estimates. Make one with NewModel; it never changes
// and may be shared.
type Model struct {
	priors  Priors
	table   *table
	start   belief
	learned *Learned
}

// NewModel checks the priors and joins them with what has been learned, which
// may be nil. The error is an *Error that names the row and field.
func NewModel(p Priors, learned *Learned) (*Model, error) {
	t, err := p.compile()
	if err != nil {
		return nil, err
	}
	if learned != nil {
		if err := learned.check(); err != nil {
			return nil, err
		}
	}
	p.Rows = append([]Prior(nil), p.Rows...)
	return &Model{p, t, start(&t.vars, &p), learned}, nil
}

// DefaultModel has the default priors and has learned nothing.
func DefaultModel() *Model {
	m, err := NewModel(DefaultPriors(), nil)
	if err != nil {
		panic("pace: default priors: " + err.Error()) // a test keeps this from happening
	}
	return m
}

// Priors is a copy of the table the model stands on.
func (m *Model) Priors() Priors {
	p := m.priors
	p.Rows = append([]Prior(nil), p.Rows...)
	return p
}

// belief about work for one farm and crew.
func (m *Model) belief(j *Job) *belief {
	if m.learned == nil {
		return &m.start
	}
	b := m.learned.Work.belief(j.FarmID, j.CrewID)
	return &b
}

// work is everything done at the crate in one visit.
type work struct {
	total load   // seconds
	mobs  []load // seconds by mob, before the common factor
	cross []crossing
	log   LogNormal // minutes, with farm, crew and day
}

// lineWork sends every mob through the line.
func (m *Model) lineWork(j *Job, b *belief) work {
	w := work{mobs: make([]load, len(j.Mobs)), cross: make([]crossing, len(j.Mobs))}
	places := j.Rig.LeadUpPlaces
	if places == 0 {
		places = usualPlaces
	}
	for i := range j.Mobs {
		mob := &j.Mobs[i]
		s := station{m.table, b, m.priors.Head, j, mob, places}
		w.cross[i] = s.best()
		w.mobs[i] = w.cross[i].whole(mob.heads(j.Rig.CalmPanel))
		w.total.add(w.mobs[i])
	}
	w.log = b.apply(&w.total)
	return w
}

// whole is the crossing of so many head.
func (c *crossing) whole(heads float64) load {
	all := c.cycle
	all.mean, all.head = c.cycle.mean*heads+c.once, c.cycle.head*heads
	if c.fills > 0 {
		feet := c.walk
		feet.mean, feet.head = c.walk.mean*c.fills, c.walk.head*c.fills
		all.add(feet)
	}
	return all
}

// apply brings in farm, crew and day: minutes of work from seconds at the line.
func (b *belief) apply(total *load) LogNormal {
	tied := 0.0
	for k, t := range b.tie {
		tied += total.doubt[k] * t
	}
	doubt := b.cov.quad(&total.doubt) + 2*tied + b.spread
	mean := total.mean * b.common * math.Exp(tied) / 60
	relative := math.Expm1(max(doubt, 0)) + total.head/(total.mean*total.mean)
	return fromMoments(mean, mean*mean*relative)
}
