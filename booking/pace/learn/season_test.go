package learn

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"drawbar/booking/pace"
)

// truth is a made-up trade whose multipliers are known.
type truth struct {
	rng   *rand.Rand
	model *pace.Model
	keys  []float64 // log-multipliers of services and motions
	farms []float64
	crews []float64
	site  []float64 // log-multipliers of set-up by farm
}

// unit is a log-normal factor of mean 1.
func (w *truth) unit(cv float64) float64 {
	v := logVar(cv)
	return w.rng.NormFloat64()*math.Sqrt(v) - v/2
}

// newTruth makes service times that are off by 30 %, farms that differ by 20 %,
// crews by 10 %.
func newTruth(seed uint64, farms int) *truth {
	w := &truth{rng: rand.New(rand.NewPCG(seed, 99)), model: pace.DefaultModel()}
	for range pace.Keys() {
		w.keys = append(w.keys, w.unit(0.3))
	}
	for range farms {
		w.farms = append(w.farms, w.unit(0.2))
		w.site = append(w.site, w.unit(0.15))
	}
	for range 4 {
		w.crews = append(w.crews, w.unit(0.1))
	}
	return w
}

var usual = [][]string{
	{pace.Drench}, {pace.Drench, pace.Inject}, {pace.Scan}, {pace.FootCheck}, {pace.FootTrim}, {pace.Crutch},
	{pace.Weigh, pace.Sort}, {pace.EarTag}, {pace.LambMark}, {pace.Condition, pace.PourOn}, {pace.Drench, pace.FootCheck},
}

// visit draws a visit and plays it: the signed docket, and the minutes from
// arrival to departure.
func (w *truth) visit(id int) (d Docket, total float64) {
	farm, crew := w.rng.IntN(len(w.farms)), w.rng.IntN(len(w.crews))
	d.ID = fmt.Sprint(id)
	d.Job = pace.Job{
		Mobs: []pace.Mob{{
			Species: pace.Sheep, Class: []pace.Class{pace.Ewe, pace.Hogget, pace.Lamb}[w.rng.IntN(3)],
			Head: 15 + int(math.Exp(w.rng.NormFloat64()*0.7+4.2)), Services: usual[w.rng.IntN(len(usual))],
		}},
		Setting: pace.Setting{Lights: true, Power: w.rng.IntN(2) == 0, Hygiene: w.rng.IntN(3)},
		Rig:     pace.Rig{SideTilt: true, LeadUpPlaces: 10, PoweredGates: 3},
		Crew:    pace.Crew{People: 1 + crew%2, Pusher: w.rng.IntN(2) == 0},
		FarmID:  fmt.Sprint("farm ", farm), CrewID: fmt.Sprint("crew ", crew),
	}
	b, err := w.model.Basis(d.Job, w.keys)
	if err != nil {
		panic(err)
	}
	single := w.rng.NormFloat64()*math.Sqrt(b.HeadVar) - b.HeadVar/2
	d.Work = b.Work*math.Exp(w.farms[farm]+w.crews[crew]+w.unit(0.15)+single) + b.Changes
	d.SetUp = b.SetUp * math.Exp(w.site[farm]+w.unit(0.15))
	d.PackDown = b.PackDown * math.Exp(w.unit(0.25))
	e, _ := w.model.Estimate(d.Job)
	wash := e.Parts.WashDown.Minutes * math.Exp(w.unit(0.3))
	return d, pace.WithBreaks(d.Work + d.SetUp + d.PackDown + wash)
}

// plainAverage is the simplest way to learn: the mean of actual over base for
// each service.
type plainAverage struct{ sum, count map[string]float64 }

func (p *plainAverage) add(d *Docket, base float64) {
	for _, s := range d.Job.Mobs[0].Services {
		p.sum[s] += d.Work / base
		p.count[s]++
	}
}

func (p *plainAverage) factor(d *Docket) float64 {
	sum, n := 0.0, 0.0
	for _, s := range d.Job.Mobs[0].Services {
		if p.count[s] > 0 {
			sum += p.sum[s] / p.count[s]
			n++
		}
	}
	if n == 0 {
		return 1
	}
	return sum / n
}

// score of one way to predict.
type score struct{ learned, priors, average, count float64 }

// Seasons of 600 dockets with known truth, 20 of them: after the first third,
// each block of 100 is predicted from the dockets before it.
func TestSeasonsAreLearned(t *testing.T) {
	var s score
	var thirds [3]cover
	seasons := 20
	if testing.Short() {
		seasons = 4
	}
	var whole cover
	for seed := range seasons {
		w := newTruth(uint64(seed), 60)
		dockets, totals := make([]Docket, 600), make([]float64, 600)
		for i := range dockets {
			dockets[i], totals[i] = w.visit(i)
		}
		for from := 200; from < 600; from += 100 {
			predict(t, w, dockets, totals, from, &s, &whole, &thirds)
		}
	}
	t.Logf("mean error: priors %.1f min, plain average %.1f, learned %.1f", s.priors/s.count, s.average/s.count, s.learned/s.count)
	t.Logf("80 %%: %.1f %%, 90 %%: %.1f %%; thirds %v", 100*whole.share80(), 100*whole.share90(), thirds)
	if s.learned > 0.65*s.priors {
		t.Errorf("error %.0f %% of the priors', want 65 or less", 100*s.learned/s.priors)
	}
	if s.learned > 0.9*s.average {
		t.Errorf("error %.0f %% of the plain average's, want 90 or less", 100*s.learned/s.average)
	}
	if p := whole.share80(); p < 0.77 || p > 0.83 {
		t.Errorf("the 80 %% time holds in %.1f %%", 100*p)
	}
	if p := whole.share90(); p < 0.87 || p > 0.93 {
		t.Errorf("the 90 %% time holds in %.1f %%", 100*p)
	}
	for i, c := range thirds {
		if math.Abs(c.share80()-0.8) > 0.05 || math.Abs(c.share90()-0.9) > 0.05 {
			t.Errorf("third %d by head: 80 %% holds in %.1f %%, 90 %% in %.1f %%", i+1, 100*c.share80(), 100*c.share90())
		}
	}
}

// cover counts how often a range held.
type cover struct{ n, in80, in90 float64 }

func (c *cover) add(total float64, r pace.Range) {
	c.n++
	if total <= r.P80.Minutes() {
		c.in80++
	}
	if total <= r.P90.Minutes() {
		c.in90++
	}
}

func (c cover) share80() float64 { return c.in80 / c.n }
func (c cover) share90() float64 { return c.in90 / c.n }
func (c cover) String() string   { return fmt.Sprintf("%.1f/%.1f", 100*c.share80(), 100*c.share90()) }

func predict(t *testing.T, w *truth, dockets []Docket, totals []float64, from int, s *score, whole *cover, thirds *[3]cover) {
	t.Helper()
	r, err := Learn(w.model.Priors(), dockets[:from])
	if err != nil || len(r.Unused) > 0 {
		t.Fatal(err, r.Unused)
	}
	model, err := pace.NewModel(w.model.Priors(), r.Learned)
	if err != nil {
		t.Fatal(err)
	}
	average := plainAverage{map[string]float64{}, map[string]float64{}}
	for i := range dockets[:from] {
		base, _ := w.model.Estimate(dockets[i].Job)
		average.add(&dockets[i], base.Parts.Work.Minutes)
	}
	for i := from; i < from+100; i++ {
		d := &dockets[i]
		before, _ := w.model.Estimate(d.Job)
		after, _ := model.Estimate(d.Job)
		s.count++
		s.priors += math.Abs(before.Total.Median.Minutes() - totals[i])
		s.learned += math.Abs(after.Total.Median.Minutes() - totals[i])
		plain := before.Total.Mean.Minutes() + before.Parts.Work.Minutes*(average.factor(d)-1)
		s.average += math.Abs(plain - totals[i])
		whole.add(totals[i], after.Total)
		thirds[third(d.Job.Head())].add(totals[i], after.Total)
	}
}

// third of the head counts the seasons draw: they split near 64 and 106.
func third(head int) int {
	switch {
	case head < 64:
		return 0
	case head < 106:
		return 1
	}
	return 2
}
