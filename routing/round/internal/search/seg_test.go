package search

import (
	"testing"

	"pgregory.net/rapid"
)

// walk drives a run by the clock: it starts at a time, waits when early, and
// turns the clock back when late.
func walk(start int32, stops []Seg, drives []int32) (end, warp int32) {
	now := start
	for i, s := range stops {
		if i > 0 {
			now += drives[i-1]
		}
		now = max(now, s.Early)
		if now > s.Late {
			warp += now - s.Late
			now = s.Late
		}
		now += s.Dur
	}
	return now, warp
}

// Joined segments say the same as driving by the clock: the least lateness,
// and the least time among the starts that have it (Vidal et al. 2013).
func TestJoinAgainstTheClock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "stops")
		var stops []Seg
		var drives []int32
		for range n {
			early := rapid.Int32Range(0, 40).Draw(t, "early")
			stops = append(stops, Seg{Dur: rapid.Int32Range(0, 9).Draw(t, "work"), Early: early, Late: early + rapid.Int32Range(0, 25).Draw(t, "open")})
			drives = append(drives, rapid.Int32Range(0, 12).Draw(t, "drive"))
		}
		run := stops[0]
		for i := 1; i < n; i++ {
			run = join(run, drives[i-1], stops[i])
		}
		leastWarp, leastTime := int32(far), int32(far)
		for start := stops[0].Early; start <= stops[0].Late; start++ {
			end, warp := walk(start, stops, drives)
			if span := end - start + warp; warp < leastWarp || warp == leastWarp && span < leastTime {
				leastWarp, leastTime = warp, span
			}
		}
		if run.Warp != leastWarp || run.Dur != leastTime {
			t.Fatalf("joined %+v; by the clock %d late, %d long", run, leastWarp, leastTime)
		}
		for _, start := range []int32{run.Early, run.Late} {
			if end, warp := walk(start, stops, drives); warp != run.Warp || end-start+warp != run.Dur {
				t.Fatalf("starting at %d: %d late, %d long, not %+v", start, warp, end-start+warp, run)
			}
		}
	})
}

// Joining is associative, so that any two runs can be put together.
func TestJoinInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seg := func(name string) Seg {
			early := rapid.Int32Range(0, 50).Draw(t, name+" early")
			return Seg{Dur: rapid.Int32Range(0, 20).Draw(t, name), Early: early, Late: early + rapid.Int32Range(0, 30).Draw(t, name+" open")}
		}
		a, b, c := seg("a"), seg("b"), seg("c")
		d, e := rapid.Int32Range(0, 20).Draw(t, "d"), rapid.Int32Range(0, 20).Draw(t, "e")
		left, right := join(join(a, d, b), e, c), join(a, d, join(b, e, c))
		if left != right {
			t.Fatalf("%+v and %+v", left, right)
		}
	})
}
