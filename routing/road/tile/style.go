package tile

import (
	"fmt"
	"strings"
)

// Width of a rig's lines, in units of a picture or pixels of a screen: half
// without the trailer. Later styles are wider and lie below, so that their
// strokes look out on both sides where rigs share a road.
func Width(style int, solo bool) float64 {
	width := 3 + 2*float64(Style(style))
	if solo {
		width /= 2
	}
	return width
}

// dashes tell the lines of rigs apart without colour.
var dashes = [][]float64{nil, {2.4, 1.6}, {0.6, 0.9}, {3, 0.8, 0.5, 0.8}, {1.2, 0.5, 0.3, 0.5, 0.3, 0.5}, {4, 2}}

// Styles is how many line styles there are; further rigs begin anew.
const Styles = 6

// Style is the one of 0..Styles-1 that stands for any number.
func Style(n int) int { return (n%Styles + Styles) % Styles }

// Dash is the pattern of a style: the lengths of strokes and gaps in turn, in
// multiples of the line's width; none for a solid line.
func Dash(style int) []float64 { return dashes[Style(style)] }

// dashArray is the pattern as an attribute.
func dashArray(style int, width float64) string {
	pattern := Dash(style)
	if len(pattern) == 0 {
		return ""
	}
	parts := make([]string, len(pattern))
	for i, d := range pattern {
		parts[i] = fmt.Sprintf("%.3g", d*width)
	}
	return ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
}

// Sample is a stroke of a style, for a key.
func Sample(style int, solo bool) []byte {
	width := Width(style, solo)
	return fmt.Appendf(nil, `<svg xmlns="http://www.w3.org/2000/svg" class="map-sample" width="44" height="14" aria-hidden="true"><path class="map-drive map-rig-%d" d="M1 7H43" fill="none" stroke="currentColor" stroke-width="%g"%s/></svg>`, Style(style), width, dashArray(style, width))
}
