package round_test

import (
	"slices"
	"testing"

	"drawbar/routing/round"
	"drawbar/routing/round/internal/evolve"
	"drawbar/routing/round/internal/search"
)

// reloaded is what a plan costs when it is put together from nothing.
func reloaded(m *search.Model, snap search.Snapshot) int64 {
	st := search.NewState(m)
	st.Load(snap)
	return st.Cost()
}

// What a search keeps up to date while it changes and takes back is the same
// as what follows from the stops alone.
func TestRuinAndRecreateKeepsItsBooks(t *testing.T) {
	for seed := range uint64(24) {
		p := generate(seed, shape{visits: 12, rigs: 2, days: 4, tame: seed%3 == 0})
		m := round.Compile(&p)
		st := search.NewState(m)
		st.Build()
		s := search.New(st, search.NewRand(seed, 0))
		left := 400
		s.Run(func() float64 { return 1 - float64(left)/400 }, func(n int) {
			left -= n
			now := st.Snapshot()
			if fresh := reloaded(m, now); fresh != now.Cost || fresh != st.Cost() {
				t.Fatalf("seed %d: %d by the books, %d anew", seed, now.Cost, fresh)
			}
		})
		if best := s.Best(); reloaded(m, best) != best.Cost {
			t.Fatalf("seed %d: the best costs %d, not %d", seed, reloaded(m, best), best.Cost)
		}
	}
}

// What searches side by side found makes one plan: every visit once, at the
// cost that follows from the stops alone, and never dearer than before.
func TestATeamKeepsItsBooks(t *testing.T) {
	for seed := range uint64(4) {
		p := generate(seed, shape{visits: 90, rigs: 4 + int(seed), days: 5})
		m := round.Compile(&p)
		st := search.NewState(m)
		st.Build()
		team, best := search.NewTeam(st, seed, seed%2 == 1), st.Cost()
		if team == nil {
			t.Fatal("no team for 90 visits")
		}
		turns := 0
		team.Run(func() float64 { return float64(turns) / 8 }, func(int) {
			turns++
			now := team.Best()
			if fresh := reloaded(m, now); fresh != now.Cost || now.Cost > best {
				t.Fatalf("seed %d: %d by the books, %d anew, %d before", seed, now.Cost, fresh, best)
			}
			best = now.Cost
		})
	}
}

// A crossed plan costs what the other engine says it costs, and is never worse
// than the plan it began with.
func TestEvolutionKeepsItsBooks(t *testing.T) {
	tried := 0
	for seed := range uint64(10) {
		p := generate(seed, shape{visits: 14, rigs: 3, days: 2, tame: true})
		oneWindow(&p)
		m := round.Compile(&p)
		if !evolve.Suits(m) {
			t.Fatalf("seed %d does not suit", seed)
		}
		tried++
		st := search.NewState(m)
		st.Build()
		first := st.Snapshot()
		s := evolve.New(m, search.NewRand(seed, 1))
		s.Adopt(first)
		for range 120 {
			s.Step()
		}
		best, ok := s.Best()
		if !ok || best.Cost > first.Cost {
			t.Fatalf("seed %d: %d after %d", seed, best.Cost, first.Cost)
		}
		if fresh := reloaded(m, best); fresh != best.Cost {
			t.Fatalf("seed %d: %d by the books, %d anew", seed, best.Cost, fresh)
		}
	}
	if tried == 0 {
		t.Fatal("nothing was tried")
	}
}

// oneWindow leaves every visit one window at most, and one cost a day.
func oneWindow(p *round.Problem) {
	for i := range p.Visits {
		p.Visits[i].Windows = slices.Clip(p.Visits[i].Windows[:min(1, len(p.Visits[i].Windows))])
	}
}

// Small problems without nights, splits and hygiene go through the crossing of
// plans; they too are compared with trying everything.
func TestSmallCrossedPlansAgainstTryingEverything(t *testing.T) {
	exact := 0
	const cases = 60
	for seed := range uint64(cases) {
		p := generate(1000+seed, shape{visits: 8, rigs: 2, days: 1 + int(seed%2), tame: true})
		oneWindow(&p)
		plan := solve(t, p, round.Options{Seed: seed, Iterations: 12000})
		for _, v := range round.Validate(p, plan) {
			t.Errorf("seed %d: %v", seed, v)
		}
		got, best := int64(plan.Cost.Total()), optimum(&p)
		if got < best || float64(got) > 1.02*float64(best) {
			t.Errorf("seed %d: %d, optimum %d", seed, got, best)
		}
		if got == best {
			exact++
		}
	}
	if exact < cases*95/100 {
		t.Errorf("only %d of %d exact", exact, cases)
	}
}
