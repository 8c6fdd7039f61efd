package tile_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"drawbar/routing/road/tile"
)

// WCAG 2.2, success criterion 1.4.1: colour is not the only means. No two
// styles have one pattern, and the vehicle alone has another width.
func TestRigsAreToldApartWithoutColour(t *testing.T) {
	for a := range tile.Styles {
		for b := range a {
			if slices.Equal(tile.Dash(a), tile.Dash(b)) {
				t.Errorf("styles %d and %d have one pattern", a, b)
			}
		}
		if string(tile.Sample(a, true)) == string(tile.Sample(a, false)) {
			t.Errorf("style %d looks the same without the trailer", a)
		}
	}
}

// SVG 2, section 13.5.6: an odd number of dashes would be doubled.
func TestPatternsHaveAGapForEveryStroke(t *testing.T) {
	for n := -2; n < 3*tile.Styles; n++ {
		pattern := tile.Dash(n)
		if len(pattern)%2 != 0 || slices.ContainsFunc(pattern, func(d float64) bool { return d <= 0 }) {
			t.Errorf("style %d: %v", n, pattern)
		}
		checkSVG(t, tile.Sample(n, false))
	}
}

func TestAPictureWithoutRoads(t *testing.T) {
	lines := []tile.Line{{Points: orb.LineString{at(0, 0), at(3000, 0)}}}
	for name, p := range map[string]tile.Picture{"empty": {}, "a line": {Lines: lines, Marks: []tile.Mark{{At: at(0, 0)}}}} {
		svg := p.SVG(nil)
		checkSVG(t, svg)
		if strings.Contains(string(svg), "map-credit") || strings.Contains(string(svg), "map-road") {
			t.Errorf("%s: %s", name, svg)
		}
		if got := strings.Count(string(svg), "map-drive"); got != len(p.Lines) {
			t.Errorf("%s: %d drives", name, got)
		}
	}
}
