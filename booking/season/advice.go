package season

import "cloud.google.com/go/civil"

// Advice is a sentence or two for people, with what it rests on.
type Advice struct {
	Says  string
	Basis string // the source, or CommonPractice
}

// CommonPractice is the basis of advice that no publication was found for.
const CommonPractice = "common practice, no published source"

// Defer ends every sentence about what may be done to an animal.
const Defer = "Your vet, the label and the rules where you are come first."

// spoken is a day as sentences say it: 4 March 2026.
func spoken(d civil.Date) string { return d.In(utc).Format("2 January 2006") }
