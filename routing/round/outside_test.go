//go:build !race

package round_test

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"drawbar/routing/round"
)

// outsideCases of up to 6 visits, 2 rigs and 2 days are planned and compared
// with what GLPK's branch and bound says about them.
const outsideCases = 40

// A second opinion on small problems that shares neither code nor method with
// the planner: a mixed-integer programme, solved by GLPK (glpsol).
func TestSmallProblemsAgainstAnOutsideSolver(t *testing.T) {
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Fatal("This needs GLPK's solver. On Debian or Ubuntu: sudo apt-get install -y glpk-utils")
	}
	var sum round.Cost
	for seed := range uint64(outsideCases) {
		p := generate(5000+seed, shape{visits: 3 + int(seed%4), rigs: 1 + int(seed/4%2), days: 1 + int(seed/8%2)})
		homely(&p)
		plan := solve(t, p, round.Options{Seed: seed, Iterations: 1500})
		for _, v := range round.Validate(p, plan) {
			t.Errorf("seed %d: %v", seed, v)
		}
		add(&sum, plan.Cost)
		got, best := float64(plan.Cost.Total())/float64(round.TicksPerMinor), glpk(t, &p)
		if math.Abs(got-best) > 0.1 {
			t.Errorf("seed %d: the planner says %.2f, GLPK %.2f", seed, got, best)
		}
	}
	if min(sum.Hours, sum.Overtime, sum.Driving, sum.Days, sum.Windows, sum.Promises, sum.LeftOut) == 0 {
		t.Errorf("some price never mattered: %+v", sum)
	}
}

func add(sum *round.Cost, c round.Cost) {
	sum.Hours += c.Hours
	sum.Overtime += c.Overtime
	sum.Driving += c.Driving
	sum.Days += c.Days
	sum.Windows += c.Windows
	sum.Promises += c.Promises
	sum.LeftOut += c.LeftOut
}

// homely takes the rules away that are not linear or that the programme leaves
// out: nights away, splitting, the risk of darkness.
func homely(p *round.Problem) {
	for r := range p.Rigs {
		p.Rigs[r].Standing = nil
		for d := range p.Rigs[r].Days {
			p.Rigs[r].Days[d].MayLodge = false
		}
	}
	for i := range p.Visits {
		v := &p.Visits[i]
		v.MayStay, v.MinChunk = false, 0
		for id, times := range v.Times {
			times.Late80, times.Late90 = 0, 0
			v.Times[id] = times
		}
	}
}

var objective = regexp.MustCompile(`Objective: +cost = ([-+.e0-9]+) \(MINimum\)`)

// glpk is the cheapest cost in minor units.
func glpk(t *testing.T, p *round.Problem) float64 {
	t.Helper()
	dir := t.TempDir()
	model, answer := filepath.Join(dir, "model.lp"), filepath.Join(dir, "answer.txt")
	text := (&linear{p: p}).text()
	if err := os.WriteFile(model, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	log, err := exec.CommandContext(t.Context(), "glpsol", "--lp", model, "--cuts", "--tmlim", "60", "-o", answer).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol: %v\n%s", err, log)
	}
	said, err := os.ReadFile(answer)
	if err != nil {
		t.Fatal(err)
	}
	found := objective.FindSubmatch(said)
	if found == nil || !regexp.MustCompile(`Status: +INTEGER OPTIMAL`).Match(said) {
		t.Fatalf("glpsol found no optimum:\n%s", log)
	}
	best, err := strconv.ParseFloat(string(found[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return best
}
