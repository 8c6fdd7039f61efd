package drive

import (
	"fmt"

	"drawbar/routing/road/network"
)

// Caution is something on the way a driver should know of beforehand.
type Caution struct {
	Code     string // a stable word: ford, narrow, weak bridge, low, steep, unpaved, soft, gate, ferry, toll
	Sentence string
}

// Cautions are what a driver of the vehicle should know about roads of a kind.
func (v Vehicle) Cautions(k *network.Kind) []Caution {
	var out []Caution
	add := func(when bool, code, format string, args ...any) {
		if when {
			out = append(out, Caution{code, fmt.Sprintf(format, args...)})
		}
	}
	add(k.Has(network.Ford), "ford", "Ford: check the depth before driving in.")
	add(k.Has(network.Gate), "gate", "Gate: leave it as you found it.")
	add(k.Has(network.Locked), "locked gate", "Gate kept locked: get the key or code first.")
	add(k.Class == network.Ferry, "ferry", "Ferry: book ahead and ask about trailers.")
	add(k.Has(network.Toll), "toll", "Toll road.")
	add(k.MaxKg > 0 && (v.Kg == 0 || int(k.MaxKg) < v.Kg*5/4), "weak bridge", "Weight limit %.1f t: weigh the loaded train.", float64(k.MaxKg)/1000)
	add(tight(k.MaxHeight, v.Height, 50), "low", "Headroom %s.", metres(int(k.MaxHeight)))
	add(tight(k.MaxWidth, v.Width, 40), "narrow", "%s between the posts.", metres(int(k.MaxWidth)))
	add(tight(k.Width, v.Width, 60) || v.Towing && k.Has(network.Lane), "narrow", "One vehicle wide: passing places only.")
	slope := max(k.Incline, -k.Incline)
	add(slope >= 10, "steep", "Slope of %d %%: low gear, and mind the brakes.", slope)
	add(k.Surface == network.Gravel || k.Surface == network.Earth, "unpaved", "Unpaved road.")
	add(k.Surface == network.Soft || k.Grade >= 5, "soft", "Soft ground: do not take a trailer on it when wet.")
	add(k.Roughness >= 5 || k.Grade == 4, "rough", "Rough road.")
	return out
}

// tight tells whether a limit in centimetres is close to what is needed; an
// unknown size makes every limit worth a word.
func tight(limit uint16, size, margin int) bool {
	return limit > 0 && (size == 0 || int(limit) < size+margin)
}
