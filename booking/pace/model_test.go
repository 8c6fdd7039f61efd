package pace

import (
	"math"
	"math/rand/v2"
	"testing"
)

var sheepAndGoats = []struct {
	species Species
	classes []Class
}{{Sheep, []Class{Ewe, Ram, Hogget, Lamb}}, {Goat, []Class{Doe, Buck, Kid}}}

// randomJob draws a job that a contractor might meet.
func randomJob(rng *rand.Rand) Job {
	yes := func(p float64) bool { return rng.Float64() < p }
	j := Job{
		Setting: Setting{
			Surface: []Surface{Firm, Hard, Soft, Slope}[rng.IntN(4)], Lights: yes(0.5), Power: yes(0.5),
			Helper: yes(0.5), RigStanding: yes(0.1), LeaveStanding: yes(0.1), Hygiene: rng.IntN(4),
		},
		Rig: Rig{
			Mount: []Mount{OnTrailer, OnSkid}[rng.IntN(2)], SideTilt: true,
			LeadUpPlaces: 1 + rng.IntN(15), PoweredGates: rng.IntN(4), CalmPanel: yes(0.5),
		},
		Crew: Crew{People: 1 + rng.IntN(3), Pusher: yes(0.5)},
	}
	for range 1 + rng.IntN(2) {
		j.Mobs = append(j.Mobs, randomMob(rng, yes))
	}
	return j
}

func randomMob(rng *rand.Rand, yes func(float64) bool) Mob {
	kind := sheepAndGoats[rng.IntN(2)]
	m := Mob{
		Species: kind.species, Class: kind.classes[rng.IntN(len(kind.classes))],
		Horned: yes(0.2), FullWool: yes(0.2), NewToCrate: yes(0.3), LambsAtFoot: yes(0.2), AsTheyCome: yes(0.3), Gates: rng.IntN(4),
	}
	for range 1 + rng.IntN(3) {
		lot := Lot{Head: 3 + rng.IntN(40), Size: 1 + rng.IntN(Sizes)}
		m.Head += lot.Head
		m.Lots = append(m.Lots, lot)
	}
	for _, k := range rng.Perm(len(services))[:1+rng.IntN(4)] {
		m.Services = append(m.Services, services[k].Code)
	}
	return m
}

// The closed model against visits played head by head: mean within 3 %, 90 %
// time within 5 %, in every one of 200 random cases.
func TestEstimateAgreesWithEvents(t *testing.T) {
	rng := rand.New(rand.NewPCG(2026, 11))
	m := DefaultModel()
	r := newReferee(1, m.priors.Head)
	var worstMean, worst90 float64
	for i := range 200 {
		j := randomJob(rng)
		e, err := m.Estimate(j)
		if err != nil {
			t.Fatalf("case %d: %v", i, err)
		}
		mean, p90 := r.play(m, j, &e, 800)
		offMean, off90 := e.Total.Mean.Minutes()/mean-1, e.Total.P90.Minutes()/p90-1
		worstMean, worst90 = max(worstMean, math.Abs(offMean)), max(worst90, math.Abs(off90))
		if math.Abs(offMean) > 0.03 || math.Abs(off90) > 0.05 {
			t.Errorf("case %d: mean %.1f played %.1f (%+.1f %%), 90 %% time %.1f played %.1f (%+.1f %%)\n%+v",
				i, e.Total.Mean.Minutes(), mean, 100*offMean, e.Total.P90.Minutes(), p90, 100*off90, j)
		}
	}
	t.Logf("largest difference: mean %.2f %%, 90 %% time %.2f %%", 100*worstMean, 100*worst90)
}
