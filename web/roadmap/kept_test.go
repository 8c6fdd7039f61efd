package roadmap

import (
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// What is kept is what was made for the key, and it is never more than two
// generations of it.
func TestKeptIsBoundedAndRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := kept[int]{most: rapid.IntRange(1, 5).Draw(t, "most")}
		for _, n := range rapid.SliceOf(rapid.IntRange(0, 20)).Draw(t, "asked") {
			made := false
			if got := k.get(strconv.Itoa(n), func() int { made = true; return n }); got != n {
				t.Fatalf("%d for %d", got, n)
			}
			if _, ok := k.look(strconv.Itoa(n)); !ok {
				t.Fatalf("%d is not kept (made: %v)", n, made)
			}
			if size := len(k.young) + len(k.elder); size > 2*k.most {
				t.Fatalf("%d are kept, %d a generation", size, k.most)
			}
		}
	})
}
