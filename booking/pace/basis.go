package pace

import "math"

// Basis is how the base values see a job: what learning compares a docket
// with. Nothing learned is in it, no breaks, and no doubt.
type Basis struct {
	Work    float64   // minutes at the line with the multipliers asked for, at a typical farm
	Lean    []float64 // by key: share of Work that moves with it; adds up to about 1
	HeadVar float64   // log-variance of Work that comes from single animals
	Changes float64   // minutes
	// SetUp and PackDown are minutes; 0 when the rig stands from the day before
	// or stays for the next.
	SetUp, PackDown float64
}

// Keys names what can be learned about work, in the order of Basis.Lean and
// Effects.Mean: the service codes, then Handling and PushUp.
func Keys() []string {
	keys := make([]string, keyCount)
	for k := range keys {
		keys[k] = codeOf(k)
	}
	return keys
}

// KeyVars is the log-variance of doubt about each key before anything is learned.
func (m *Model) KeyVars() []float64 { return append([]float64(nil), m.table.vars[:]...) }

// Basis takes the job apart at the log-multipliers given for the first keys.
func (m *Model) Basis(j Job, at []float64) (Basis, error) {
	if err := j.check(); err != nil {
		return Basis{}, err
	}
	b := belief{common: 1}
	for k := range b.factor {
		b.factor[k] = 1
		if k < len(at) {
			b.factor[k] = math.Exp(at[k])
		}
	}
	w := m.lineWork(&j, &b)
	var e Estimate
	e.Order, e.WallChanges = planWalls(parts(j.Mobs))
	out := Basis{
		Work: w.total.mean / 60, Lean: append([]float64(nil), w.total.lean[:]...), HeadVar: w.total.headVar(),
		Changes: e.changeMinutes(&j), PackDown: packDownMinutes(&j),
	}
	if !j.Setting.RigStanding {
		out.SetUp = setUpMinutes(&j)
	}
	return out, nil
}
