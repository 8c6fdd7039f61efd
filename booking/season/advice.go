package season

// Advice is a sentence or two for people, with what it rests on.
type Advice struct {
	Says  string
	Basis string // the source, or CommonPractice
}

// CommonPractice is the basis of advice that no publication was found for.
const CommonPractice = "common practice, no published source"

// Defer ends every sentence about what may be done to an animal.
const Defer = "Your vet, the label and the rules where you are come first."
