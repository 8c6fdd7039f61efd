package search

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// After every turn the members have the same plan, every visit once, at the
// cost that follows from the stops alone, whatever they did side by side.
func TestMembersOfATeamHaveOnePlan(t *testing.T) {
	taken := 0
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		st := NewState(m)
		st.Build()
		team := newTeam(st, rapid.Uint64().Draw(t, "seed"), rapid.IntRange(2, 4).Draw(t, "members"))
		team.looks = 20
		team.start()
		defer team.dismiss()
		for range 20 {
			team.heat = rapid.SampledFrom([]float64{teamHot, cold}).Draw(t, "heat")
			team.work()
			own := len(team.members[0].news.steps)
			team.meet()
			taken += len(team.members[0].news.steps) - own
			for _, s := range team.members {
				s.join(&team.common)
			}
			team.agrees(t, m)
		}
	})
	if taken == 0 {
		t.Error("no step of another was ever taken")
	}
}

// When the time is limited, a member begins no more steps once another has done
// its own; when the plan has to be the same each time, it does all of them.
func TestNobodyWaitsWhenTheTimeIsLimited(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := NewState(drawModel(t))
		st.Build()
		team := newTeam(st, rapid.Uint64().Draw(t, "seed"), 2)
		team.heat, team.timed = teamHot, true
		team.turn(0)
		team.turn(1)
		if team.did[0] == 0 || team.did[1] != 0 {
			t.Errorf("%d steps, then %d", team.did[0], team.did[1])
		}
		team.timed = false
		if team.turn(1); team.did[1] == 0 {
			t.Error("no steps when the plan has to be the same each time")
		}
	})
}

// agrees compares every member's plan with the first, and with one that is
// built from the stops.
func (team *Team) agrees(t *rapid.T, m *Model) {
	first := team.members[0].st
	fresh := NewState(m)
	fresh.Load(first.Snapshot())
	for i, s := range team.members {
		if s.st.cost != fresh.cost {
			t.Fatalf("member %d: %d by the books, %d anew", i, s.st.cost, fresh.cost)
		}
		if !slices.Equal(s.st.where, fresh.where) || len(s.st.absent) != len(fresh.absent) {
			t.Fatalf("member %d has another plan", i)
		}
		for r := range m.Rigs {
			for d := range m.Days {
				if !slices.Equal(s.st.Stops(r, d), fresh.Stops(r, d)) {
					t.Fatalf("member %d: rig %d has other stops on day %d", i, r, d)
				}
				s.st.keepsWaits(t, r, d)
			}
		}
	}
}

func (st *State) keepsWaits(t *rapid.T, r, d int) {
	for _, s := range st.Stops(r, d) {
		if c := st.m.Visits[s.Visit].Class; !st.mayWait(r, d, c) {
			t.Fatalf("rig %d may not visit class %d on day %d", r, c, d)
		}
	}
}
