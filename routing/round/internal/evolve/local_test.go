package evolve

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// checkBooks compares all that is kept about routes with the sequences alone.
func checkBooks(t *rapid.T, l *local) (total int64) {
	t.Helper()
	seen := make([]int, l.w.n)
	for k, r := range l.routes {
		if cost := anew(l, r); cost != r.cost {
			t.Fatalf("route %d %v costs %d by the books, %d by the clock", k, r.seq, r.cost, cost)
		}
		for i, v := range r.seq[1 : len(r.seq)-1] {
			seen[v]++
			if l.at[v] != r || int(l.pos[v]) != i+1 {
				t.Fatalf("visit %d is at %d of route %d, not at %d", v, i+1, k, l.pos[v])
			}
			if r.nodes[v].choice < 0 {
				t.Fatalf("visit %d may not be on route %d", v, k)
			}
		}
		total += r.cost
	}
	for v, n := range seen {
		if n > 1 || n == 0 && l.at[v] != nil {
			t.Fatalf("visit %d is on %d routes", v, n)
		}
	}
	return total
}

// A route put together from runs is as late and as long as one that is driven
// by the clock, from both ends and split anywhere.
func TestRunsAgainstTheClock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLocal(t)
		checkBooks(t, l)
		for _, r := range l.routes {
			c := byClock(r)
			for i := range len(r.seq) - 1 {
				whole := r.join(&r.pre[i], &r.suf[i+1])
				if len(r.seq) > 2 && (whole.warp != c.warp || whole.dur != c.dur) {
					t.Fatalf("%v split at %d: %d late and %d long, by the clock %+v", r.seq, i, whole.warp, whole.dur, c)
				}
			}
		}
	})
}

// Whatever move is made, the plan is cheaper by the clock than before; when
// none is made, nothing has changed.
func TestMovesPayByTheClock(t *testing.T) {
	moved := 0
	rapid.Check(t, func(t *rapid.T) {
		l := drawLocal(t)
		before := checkBooks(t, l)
		for range 12 {
			u, v := drawPair(t, l)
			done := l.pair(u, v)
			if !done && l.pos[v] == 1 {
				done = l.toFront(u, l.at[v])
			}
			now := checkBooks(t, l)
			if done && now >= before || !done && now != before {
				t.Fatalf("made a move: %v; %d before, %d after", done, before, now)
			}
			if done {
				moved++
			}
			before = now
		}
	})
	if moved == 0 {
		t.Error("no move was ever made")
	}
}

func drawPair(t *rapid.T, l *local) (u, v int32) {
	u = rapid.Int32Range(0, int32(l.w.n-1)).Draw(t, "u")
	v = rapid.Int32Range(0, int32(l.w.n-2)).Draw(t, "v")
	if v >= u {
		v++
	}
	return u, v
}

// Every move there is has to be found by somebody: with all routes given, no
// visit can be brought to another route for less by the clock.
func TestLocalOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLocal(t)
		before := checkBooks(t, l)
		l.improve()
		total := checkBooks(t, l)
		if total > before {
			t.Fatalf("%d after %d", total, before)
		}
		for u := range int32(l.w.n) {
			for _, to := range l.routes {
				if from := l.at[u]; to != from && to.nodes[u].choice >= 0 {
					tryRelocating(t, l, u, from, to)
				}
			}
		}
	})
}

func tryRelocating(t *rapid.T, l *local, u int32, from, to *route) {
	for at := 1; at < len(to.seq); at++ {
		a, b := *from, *to
		a.seq = slices.DeleteFunc(slices.Clone(from.seq), func(v int32) bool { return v == u })
		b.seq = slices.Insert(slices.Clone(to.seq), at, u)
		if now := anew(l, &a) + anew(l, &b); now < from.cost+to.cost {
			t.Fatalf("visit %d from %v to %d of %v: %d instead of %d", u, from.seq, at, to.seq, now, from.cost+to.cost)
		}
	}
}

// What is stored of a plan is what it costs without fines, and how much of
// them there is.
func TestStoreSplitsFinesOff(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLocal(t)
		var p plan
		l.store(&p)
		total := checkBooks(t, l)
		if p.fined(l.fines) != total {
			t.Fatalf("%d with fines, routes cost %d", p.fined(l.fines), total)
		}
		var warp, over int64
		for _, r := range l.routes {
			var load int64
			for _, v := range r.seq[1 : len(r.seq)-1] {
				load += l.w.m.Visits[v].Load
			}
			if c := byClock(r); len(r.seq) > 2 {
				warp += int64(c.warp + max(0, c.dur-r.rd.Longest))
			}
			over += max(0, load-r.rd.MaxLoad)
		}
		if p.warp != warp || p.over != over || p.holds() != (warp+over == 0) {
			t.Fatalf("%d late and %d over, by the clock %d and %d", p.warp, p.over, warp, over)
		}
	})
}
