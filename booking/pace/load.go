package pace

import "math"

// vec holds one number for each thing that can be learned.
type vec [keyCount]float64

// load is a time per head: its mean, how it leans on the things in doubt, and
// how much it differs from one head to the next.
type load struct {
	mean  float64 // seconds
	lean  vec     // share of the time that moves with each key (elasticity)
	doubt vec     // the same, scaled so that doubt'·C·doubt is its log-variance
	head  float64 // variance from head to head, seconds²
}

// single is a load made of one key alone.
func single(k int, mean, headCV float64) load {
	l := load{mean: mean, head: mean * mean * headCV * headCV}
	l.lean[k], l.doubt[k] = 1, 1
	return l
}

// add puts another load behind this one: both have to be done by the same hands.
func (l *load) add(o load) {
	total := l.mean + o.mean
	if total == 0 {
		return
	}
	a, b := l.mean/total, o.mean/total
	for k := range l.lean {
		l.lean[k] = a*l.lean[k] + b*o.lean[k]
		l.doubt[k] = a*l.doubt[k] + b*o.doubt[k]
	}
	l.mean, l.head = total, l.head+o.head
}

// times scales a load by a fixed factor.
func (l load) times(f float64) load {
	l.mean *= f
	l.head *= f * f
	return l
}

// headVar is the log-variance from head to head.
func (l *load) headVar() float64 {
	if l.mean == 0 {
		return 0
	}
	return math.Log1p(l.head / (l.mean * l.mean))
}

// Trapezoid rule over a standard normal. With steps of half a standard
// deviation even a bend in the integrand costs less than 0.5 % (step²/12 times
// the change of slope), a smooth one far less.
const (
	quadReach  = 3.5
	quadPoints = 15
)

var quadX, quadW = quadrature()

func quadrature() (x, w [quadPoints]float64) {
	sum := 0.0
	for i := range x {
		x[i] = -quadReach + 2*quadReach*float64(i)/(quadPoints-1)
		w[i] = math.Exp(-x[i] * x[i] / 2)
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return x, w
}

// pair joins two loads that run side by side into the one time per head that
// results. rule gives that time, in units of b, for the logarithm of the ratio
// a/b of the mean times; it averages over the head-to-head differences. The
// doubts of a and b are correlated by the covariance c.
//
// The result is exact for log-normal doubts up to the quadrature: with b as
// numeraire, E[b·rule(a/b)] = E[b]·E'[rule], where E' shifts the log-ratio by
// its covariance with ln b; the second moment shifts it twice. The lean on a
// follows from Stein's lemma.
func pair(a, b load, c *covariance, rule func(logRatio float64) float64) load {
	va, vb, cab := c.quad(&a.doubt), c.quad(&b.doubt), c.cross(&a.doubt, &b.doubt)
	spread := math.Sqrt(max(va+vb-2*cab, 1e-6))
	// Both means are means, so the median of the log-ratio is shifted.
	centre := math.Log(a.mean/b.mean) - va/2 + vb/2
	shift := cab - vb
	var m1, m2, slope float64
	for i, x := range quadX {
		r := rule(centre + shift + spread*x)
		m1 += quadW[i] * r
		slope += quadW[i] * r * x
		if i%2 == 0 { // every other point will do for the spread
			r = rule(centre + 2*shift + spread*x)
			m2 += 2 * quadW[i] * r * r
		}
	}
	onA := min(max(slope/spread/m1, 0), 1)
	out := load{mean: b.mean * m1}
	logVariance := max(math.Log(m2/(m1*m1))+vb, 0)
	for k := range out.lean {
		out.lean[k] = onA*a.lean[k] + (1-onA)*b.lean[k]
		out.doubt[k] = onA*a.doubt[k] + (1-onA)*b.doubt[k]
	}
	out.scaleDoubt(logVariance, c)
	share := onA // the station that holds up the other also sets the head-to-head spread
	out.head = share*a.head + (1-share)*b.head
	return out
}

// scaleDoubt makes doubt'·C·doubt equal the log-variance wanted.
func (l *load) scaleDoubt(want float64, c *covariance) {
	q := c.quad(&l.doubt)
	if q <= 0 {
		return
	}
	f := math.Sqrt(want / q)
	for k := range l.doubt {
		l.doubt[k] *= f
	}
}

// covariance of the things in doubt, on the log scale.
type covariance [keyCount]vec

func (c *covariance) quad(z *vec) float64 { return c.cross(z, z) }

func (c *covariance) cross(y, z *vec) float64 {
	sum := 0.0
	for i := range y {
		if y[i] == 0 {
			continue
		}
		row := 0.0
		for j := range z {
			row += c[i][j] * z[j]
		}
		sum += y[i] * row
	}
	return sum
}
