package view

import (
	"fmt"
	"strings"

	"drawbar/booking/pace/kit"
)

// KitLine is one thing to load, for the template kit.
type KitLine struct {
	What     string
	Amount   string // "1,838 mL"
	Packs    string // "2 × 1,000 mL"; "" where it comes loose
	Reckoned string
	Caution  string
}

// NewKit shows a kit list.
func NewKit(items []kit.Item) []KitLine {
	lines := make([]KitLine, len(items))
	for i, item := range items {
		lines[i] = KitLine{
			What: item.What, Amount: Number(int(item.Amount)) + " " + item.Unit, Packs: packsInWords(item.Packs),
			Reckoned: item.Reckoned, Caution: item.Caution,
		}
	}
	return lines
}

func packsInWords(packs []kit.Pack) string {
	var all []string
	for _, p := range packs {
		all = append(all, fmt.Sprintf("%d × %s mL", p.Count, Number(p.Size)))
	}
	return strings.Join(all, " and ")
}
