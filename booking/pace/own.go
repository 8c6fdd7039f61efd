package pace

import "unicode/utf8"

// Covers names the animals a row is for: "" for all, else a species or a class.
func (row Prior) Covers() string {
	if row.Class != "" {
		return string(row.Class)
	}
	return string(row.Species)
}

// ForAnimals is the row for other animals: "" for all, a species, or a class.
func (row Prior) ForAnimals(covers string) Prior {
	row.Species, row.Class = "", ""
	for species, list := range classes {
		if covers == string(species) {
			row.Species = species
		}
		if oneOf(Class(covers), list...) {
			row.Species, row.Class = species, Class(covers)
		}
	}
	return row
}

// same tells whether two rows fill the same place.
func (row *Prior) same(o *Prior) bool { return row.Code == o.Code && row.Covers() == o.Covers() }

// With is the table with the business's own rows in place of those for the same
// service and animals, or added to them.
func (p Priors) With(own []Prior) Priors {
	rows := append([]Prior(nil), p.Rows...)
next:
	for i := range own {
		for k := range rows {
			if rows[k].same(&own[i]) {
				rows[k] = own[i]
				continue next
			}
		}
		rows = append(rows, own[i])
	}
	p.Rows = rows
	return p
}

// maxSource is the length of what can be said about a row's source, in letters.
const maxSource = 300

// Check tells whether the row can stand in a table. The error is an *Error that
// names the field.
func (row Prior) Check() error {
	if err := row.check(); err != nil {
		return err
	}
	return nil
}

func (row *Prior) checkOrigin() *Error {
	switch {
	case !oneOf(row.Origin, Published, CommonPractice, Own):
		return bad("origin", "Say where the value is from: published, common practice, or your own.")
	case utf8.RuneCountInString(row.Source) > maxSource:
		return bad("source", "Please keep this to %d characters.", maxSource)
	case row.Origin == Published && row.Source == "":
		return bad("source", "Name the source of a published value: who, where, when.")
	}
	return nil
}

// Word is what a row is about: the name of its service, or of a motion.
func (row Prior) Word() string {
	switch row.Code {
	case Handling:
		return "Catching and letting go"
	case PushUp:
		return "Pushing up"
	}
	if s, ok := ServiceByCode(row.Code); ok {
		return s.Name
	}
	return row.Code
}
