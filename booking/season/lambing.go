package season

import (
	"fmt"

	"drawbar/booking"
	"drawbar/booking/say"

	"cloud.google.com/go/civil"
)

// Gestation is the usual length of pregnancy in days: ewes 147 (142 to 152
// usual), does 150 (breed means 149.0 to 151.7; source: J. Agric. Sci. 2000,
// 1,468 pregnancies; the ewe's is a textbook value). 0 for any other species.
func Gestation(species booking.Species) int {
	switch species {
	case booking.Sheep:
		return 147
	case booking.Goat:
		return 150
	}
	return 0
}

// LambingFrom is when the first lambs or kids are due for males that went in
// on the day.
func LambingFrom(malesIn civil.Date, species booking.Species) civil.Date {
	return malesIn.AddDays(Gestation(species))
}

// usualJoining stands in where nobody said when the males came out: three
// cycles of 17 days. Source: Oregon State University, sheep management calendar.
const usualJoining = 51

// Lambing is when lambs or kids are due, from the first to the last. The day
// the males came out may be zero: then 51 days of joining are assumed.
func Lambing(malesIn, malesOut civil.Date, species booking.Species) Days {
	if !malesIn.IsValid() {
		return Days{}
	}
	if !malesOut.IsValid() || malesOut.Before(malesIn) {
		malesOut = malesIn.AddDays(usualJoining)
	}
	return Days{From: LambingFrom(malesIn, species), To: LambingFrom(malesOut, species)}
}

// lateDays before lambing call for care: the last six weeks, in which most of
// the lamb's growth falls. Common practice, no published source.
const lateDays = 42

// LateCare warns of handling a mob late in pregnancy or at lambing; ok is
// false on days that need no warning and where the days are not known.
func LateCare(malesIn, malesOut civil.Date, species booking.Species, day civil.Date) (warning Advice, ok bool) {
	due := Lambing(malesIn, malesOut, species)
	if due.Empty() || day.Before(due.From.AddDays(-lateDays)) || day.After(due.To) {
		return Advice{}, false
	}
	dams, birth := "Ewes", "lambing"
	if species == booking.Goat {
		dams, birth = "Does", "kidding"
	}
	when := fmt.Sprintf("%s from %s is under way", birth, say.Date(due.From))
	if left := due.From.DaysSince(day); left > 0 {
		when = fmt.Sprintf("%s is due from %s, in %s", birth, say.Date(due.From), count(left, "day"))
	}
	return Advice{Basis: CommonPractice, Says: fmt.Sprintf(
		"%s. %s this near can lose young or fall ill from being turned, crowded or kept off feed: handle only what cannot wait, quietly, with no side tilt, and keep the time in the yard short. %s",
		upper(when), dams, Defer)}, true
}

func count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// upper starts a sentence; our sentences start with plain letters.
func upper(s string) string { return string(s[0]-'a'+'A') + s[1:] }
