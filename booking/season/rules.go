package season

import (
	"fmt"
	"strings"

	"drawbar/booking"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Rule is what the law of a place says about a task, as it was read on a day.
type Rule struct {
	Region   string     // ISO 3166-2, such as GB-ENG
	Service  string     // code of the service it bears on
	Task     string     // "castration with a ring"
	MostDays int        // oldest age in days
	Basis    string     // the law
	Read     civil.Date // when it was read
}

// lawRead is the day the table was last compared with its sources. Early in
// 2026 the four governments of the United Kingdom consulted on new limits, so
// the table has to be read again from time to time.
var lawRead = civil.Date{Year: 2026, Month: 11, Day: 25}

// rules hold what a source was found for, and no more: a place that is
// missing has rules of its own that we do not know.
var rules = []Rule{
	{"GB-ENG", "lamb-mark", "castration with a ring", 7, englishLaw, lawRead},
	{"GB-ENG", "lamb-mark", "tail docking with a ring", 7, englishLaw, lawRead},
	{"GB-WLS", "lamb-mark", "castration with a ring", 7, "Mutilations (Permitted Procedures) (Wales) Regulations 2007, SI 2007/1029, schedule 5", lawRead},
	{"GB-NIR", "lamb-mark", "tail docking with a ring", 7, "Welfare of Animals (Permitted Procedures by Lay Persons) Regulations (Northern Ireland) 2012, SR 2012/153, schedule 3", lawRead},
}

// englishLaw was read through its summaries by the AssureWel project and the
// National Farmers' Union, not in its own words.
const englishLaw = "Mutilations (Permitted Procedures) (England) Regulations 2007, SI 2007/1100"

// Rules that bear on a service in a region: a country (GB gives those of all
// its parts) or a part of one (GB-ENG). None means that we know of none, not
// that there are none.
func Rules(region, service string) []Rule {
	var found []Rule
	for _, r := range rules {
		if r.Service == service && (r.Region == region || strings.HasPrefix(r.Region, region+"-")) {
			found = append(found, r)
		}
	}
	return found
}

var regionNames = map[string]string{"GB-ENG": "England", "GB-WLS": "Wales", "GB-NIR": "Northern Ireland"}

// Advice puts the rule in words, with the day it was read.
func (r Rule) Advice() Advice {
	return Advice{Basis: r.Basis, Says: fmt.Sprintf(
		"In %s %s is for animals of at most %s; older ones need other means and may need a vet. Read on %s; the law may have changed. %s",
		regionNames[r.Region], r.Task, count(r.MostDays, "day"), say.Date(r.Read), Defer)}
}

// boosters are the weeks before lambing in which the yearly booster against
// clostridial disease is given. The label of the product decides.
var boosters = map[string]struct {
	most, least int // weeks before the first lambs
	basis       string
}{
	"US": {4, 3, "University of Maryland Extension, late pregnancy in ewes"},
	"GB": {6, 4, "farming press in the United Kingdom; a range check only"},
}

// BoosterDays is when the booster before lambing or kidding is usually given
// in a country (ISO 3166-1); ok is false where we know of no advice.
func BoosterDays(malesIn civil.Date, species booking.Species, country string) (days Days, advice Advice, ok bool) {
	b, ok := boosters[country]
	if !ok || !malesIn.IsValid() || Gestation(species) == 0 {
		return Days{}, Advice{}, false
	}
	due := LambingFrom(malesIn, species)
	days = Days{From: due.AddDays(-7 * b.most), To: due.AddDays(-7 * b.least)}
	return days, Advice{Basis: b.basis, Says: fmt.Sprintf(
		"A booster before birth is usually given from %s, %d to %d weeks before the first are due. Handle gently this late. %s",
		days, b.least, b.most, Defer)}, true
}
