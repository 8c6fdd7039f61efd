package pace

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// leastChanges tries every order and every pair of wall positions: the
// exhaustive answer, sharing nothing with the planner.
func leastChanges(all []part) int {
	best := 1 << 30
	var walk func(done uint, last, front, back, cost int)
	walk = func(done uint, last, front, back, cost int) {
		if done == 1<<len(all)-1 {
			best = min(best, cost)
			return
		}
		for i, p := range all {
			if done>>i&1 == 1 || splits(all, done, last, i) {
				continue
			}
			for f := p.front.lo; f <= p.front.hi; f++ {
				for b := p.back.lo; b <= p.back.hi; b++ {
					more := 0
					if done != 0 && f != front {
						more++
					}
					if done != 0 && b != back {
						more++
					}
					walk(done|1<<i, i, f, b, cost+more)
				}
			}
		}
	}
	walk(0, -1, 0, 0, 0)
	return best
}

// splits tells whether working next now would leave a begun mob unfinished.
func splits(all []part, done uint, last, next int) bool {
	if last < 0 || all[last].mob == all[next].mob {
		return false
	}
	for i, p := range all {
		if done>>i&1 == 0 && p.mob == all[last].mob {
			return true
		}
	}
	return false
}

func drawParts(t *rapid.T, most int) []part {
	n := rapid.IntRange(1, most).Draw(t, "lots")
	all := make([]part, n)
	for i := range all {
		mob := Mob{Horned: rapid.Bool().Draw(t, "horned")}
		all[i] = newPart(rapid.IntRange(0, 2).Draw(t, "mob"), &mob, i+1, rapid.IntRange(1, Sizes).Draw(t, "size"))
	}
	slices.SortStableFunc(all, func(a, b part) int { return a.mob - b.mob })
	return all
}

func TestWallPlanHasFewestChanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := drawParts(t, 4)
		want := leastChanges(all)
		if _, got := planWalls(slices.Clone(all)); got != want {
			t.Fatalf("%d changes, best is %d for %+v", got, want, all)
		}
	})
}

// Whatever the number of lots, the plan works each once, keeps mobs together,
// holds every animal, and counts its own changes right.
func TestWallPlanIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := drawParts(t, 14)
		steps, changes := planWalls(slices.Clone(all))
		seen, counted := map[int]bool{}, 0
		var closed []int
		for i, s := range steps {
			p := all[slices.IndexFunc(all, func(p part) bool { return p.head == s.Head })]
			if seen[s.Head] || s.Front < p.front.lo || s.Front > p.front.hi || s.Back < p.back.lo || s.Back > p.back.hi {
				t.Fatalf("step %+v does not hold lot %+v", s, p)
			}
			seen[s.Head] = true
			if slices.Contains(closed, s.Mob) {
				t.Fatalf("mob %d is worked in two pieces: %+v", s.Mob, steps)
			}
			if i == 0 {
				continue
			}
			if b := steps[i-1]; b.Mob != s.Mob {
				closed = append(closed, b.Mob)
			}
			if steps[i-1].Front != s.Front {
				counted++
			}
			if steps[i-1].Back != s.Back {
				counted++
			}
		}
		if len(steps) != len(all) || counted != changes {
			t.Fatalf("%d steps for %d lots; %d changes said, %d counted", len(steps), len(all), changes, counted)
		}
	})
}

func TestMixedMobsAreWorkedInSizeOrder(t *testing.T) {
	m := Mob{Species: Sheep, Class: Ewe, Head: 60, Lots: []Lot{{20, 5}, {20, 1}, {20, 3}}}
	steps, changes := planWalls(parts([]Mob{m}))
	if changes != 4 { // two moves of both walls: no two of sizes 1, 3, 5 share a position
		t.Errorf("%d changes, want 4", changes)
	}
	if up, down := steps[0].Front < steps[2].Front, steps[0].Front > steps[2].Front; steps[1].Front != 3 || !up && !down {
		t.Errorf("not in size order: %+v", steps)
	}
}
