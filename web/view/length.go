package view

import (
	"fmt"
	"time"

	"drawbar/booking/pace"
)

// Length is an estimate as people see it, for the template length: in words,
// as bars with their minutes, and with what drives it.
type Length struct {
	Words   string // "about 3 h 10, could be 4 h"
	Parts   []Part
	Average time.Duration // all parts together
	Fade    Stretch       // from there to what nine visits of ten keep to
	Drivers []string      // sentences
}

// Part is one part of a visit, such as setting up: its mean.
type Part struct {
	Kind string // of bar: yard, work, change, rest or wash
	Name string
	Time time.Duration
	Stretch
}

// fills are the patterns of the template defs by kind of bar; work is solid and
// a rest is empty.
var fills = map[string]string{"yard": "url(#ticks)", "change": "url(#dots)", "wash": "url(#slants)", "rest": "none"}

// Fill of the part's bar, "" for solid work.
func (p Part) Fill() string { return fills[p.Kind] }

// Stretch of a drawing from left to right, in per cent, for SVG attributes.
type Stretch struct{ X, W string }

// NewLength shows an estimate. Parts that take no time are left out.
func NewLength(e pace.Estimate) Length {
	l := Length{Words: e.Total.Words(), Drivers: e.Drivers}
	for _, p := range []struct {
		kind, name string
		part       pace.Part
	}{
		{"yard", "Set-up", e.Parts.SetUp}, {"work", "Work", e.Parts.Work}, {"change", "Wall and gate changes", e.Parts.Changes},
		{"rest", "Breaks", e.Parts.Breaks}, {"yard", "Pack-down", e.Parts.PackDown}, {"wash", "Wash-down", e.Parts.WashDown},
	} {
		if d := wholeMinutes(p.part.Minutes); d > 0 {
			l.Parts = append(l.Parts, Part{Kind: p.kind, Name: p.name, Time: d})
			l.Average += d
		}
	}
	l.draw(max(e.Total.P90, l.Average))
	return l
}

func wholeMinutes(minutes float64) time.Duration {
	return time.Duration(minutes * float64(time.Minute)).Round(time.Minute)
}

// draw lays the parts one behind the other on a drawing as wide as longest.
func (l *Length) draw(longest time.Duration) {
	var at time.Duration
	for i, p := range l.Parts {
		l.Parts[i].Stretch = stretch(at, p.Time, longest)
		at += p.Time
	}
	l.Fade = stretch(at, longest-at, longest)
}

func stretch(from, length, whole time.Duration) Stretch {
	percent := func(d time.Duration) string { return fmt.Sprintf("%.2f%%", 100*float64(d)/float64(max(whole, 1))) }
	return Stretch{percent(from), percent(length)}
}
