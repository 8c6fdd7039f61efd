package season

import (
	"fmt"

	"drawbar/booking"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Scan is when a mob can be scanned so that what each female carries can be
// counted.
type Scan struct {
	Days  Days   // one visit on any of these days does; empty when none does
	Short string // why none does, in a sentence without the days; "" where one does
	Parts []Part // where one visit cannot do: how several can
	Advice
}

// Part of a long joining, and when those mated in it can be scanned.
type Part struct{ Mated, Scan Days }

// scanRule bounds the days of a scan by species.
type scanRule struct {
	first, last int // days after the males went in
	after       int // days after they came out, at least
	males, dams string
	basis       string
}

var scanRules = map[booking.Species]scanRule{
	// Later than day 100 the count gets hard; sooner than 35 days after the
	// last mating late ewes look empty.
	booking.Sheep: {first: 80, last: 100, after: 35, males: "rams", dams: "ewes", basis: "Teagasc (Irish agriculture and food authority), guidance of 2023"},
	booking.Goat:  {first: 45, last: 90, after: 45, males: "bucks", dams: "does", basis: CommonPractice},
}

// longest joining that one visit can serve, in days.
func (r scanRule) longest() int { return r.last - r.after }

const mostParts = 3

// ScanWindow says when to scan a mob whose males went in and came out on
// these days. The day they came out may be left zero: then the days hold
// under the condition that the sentence names. Days that cannot be used give
// no window and a sentence that says what to give.
func ScanWindow(malesIn, malesOut civil.Date, species booking.Species) Scan {
	r, ok := scanRules[species]
	switch {
	case !ok:
		return r.none("Choose sheep or goats to see when they can be scanned.")
	case !malesIn.IsValid():
		return r.none("Give the day the %s went in to see when the %s can be scanned.", r.males, r.dams)
	case malesOut.IsZero():
		return r.outUnknown(malesIn)
	case !malesOut.IsValid() || malesOut.Before(malesIn):
		return r.none("The %s came out before they went in; please look at both days.", r.males)
	case malesOut.DaysSince(malesIn) > r.longest():
		return r.tooLong(malesIn, malesOut)
	}
	days := r.window(malesIn, malesOut)
	return Scan{Days: days, Advice: Advice{Basis: r.basis, Says: fmt.Sprintf(
		"Scan from %s: %d to %d days after the %s went in and at least %d after they came out.",
		days, r.first, r.last, r.males, r.after)}}
}

func (r scanRule) none(format string, args ...any) Scan {
	says := fmt.Sprintf(format, args...)
	return Scan{Short: says, Advice: Advice{Says: says, Basis: r.basis}}
}

// window for a joining that is not too long.
func (r scanRule) window(in, out civil.Date) Days {
	days := Days{From: in.AddDays(r.first), To: in.AddDays(r.last)}
	if soonest := out.AddDays(r.after); soonest.After(days.From) {
		days.From = soonest
	}
	return days
}

func (r scanRule) outUnknown(in civil.Date) Scan {
	days := Days{From: in.AddDays(r.first), To: in.AddDays(r.last)}
	return Scan{Days: days, Advice: Advice{Basis: r.basis, Says: fmt.Sprintf(
		"Scan from %s, and at least %d days after the %s come out: they have to be out by %s.",
		days, r.after, r.males, say.Date(in.AddDays(r.longest())))}}
}

// tooLong says why one visit will not do, and splits the joining evenly into
// as few parts as one visit each can serve.
func (r scanRule) tooLong(in, out civil.Date) Scan {
	joined := out.DaysSince(in)
	why := fmt.Sprintf("The %s were in for %d days. One visit can count only up to %d: by the time the last %s show, the first are past day %d.",
		r.males, joined, r.longest(), r.dams, r.last)
	n := (joined + r.longest() - 1) / r.longest()
	if n > mostParts {
		return r.none("%s Ask whoever scans for you; dates alone cannot plan this.", why)
	}
	scan := Scan{Parts: make([]Part, n), Short: fmt.Sprintf(
		"The %s were in for %d days, and one visit can count only up to %d: split the mob, or book %d visits.", r.males, joined, r.longest(), n)}
	for i := range n {
		mated := Days{From: in.AddDays(joined * i / n), To: in.AddDays(joined * (i + 1) / n)}
		scan.Parts[i] = Part{Mated: mated, Scan: r.window(mated.From, mated.To)}
	}
	scan.Advice = Advice{Basis: r.basis, Says: why + r.split(scan.Parts)}
	return scan
}

func (r scanRule) split(parts []Part) string {
	text := fmt.Sprintf(" Split the mob by mating mark, or book %d visits for all and scan again what shows empty:", len(parts))
	for i, p := range parts {
		if i > 0 {
			text += ";"
		}
		text += fmt.Sprintf(" %s mated from %s, scan from %s", r.dams, p.Mated, p.Scan)
	}
	return text + "."
}
