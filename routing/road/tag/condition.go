package tag

import "strings"

// Clause is one part of a conditional value (wiki: Conditional restrictions):
// the value holds when all its conditions do.
type Clause struct {
	Value      string
	Conditions []string
}

// Clauses splits "60 @ (trailer); 50 @ (wet AND weight>3.5)" into clauses.
// Parts it cannot read are left out.
func Clauses(v string) []Clause {
	var out []Clause
	for _, part := range splitOutside(v, ';') {
		value, condition, found := strings.Cut(part, "@")
		value = strings.TrimSpace(value)
		if !found || value == "" {
			continue
		}
		condition = strings.TrimSpace(condition)
		condition = strings.TrimSuffix(strings.TrimPrefix(condition, "("), ")")
		c := Clause{Value: value}
		for _, and := range strings.Split(strings.ReplaceAll(condition, " and ", " AND "), " AND ") {
			c.Conditions = append(c.Conditions, strings.TrimSpace(and))
		}
		out = append(out, c)
	}
	return out
}

// splitOutside splits at sep where it is not inside brackets.
func splitOutside(v string, sep byte) []string {
	var parts []string
	depth, from := 0, 0
	for i := range len(v) {
		switch v[i] {
		case '(':
			depth++
		case ')':
			depth--
		case sep:
			if depth <= 0 {
				parts = append(parts, v[from:i])
				from = i + 1
			}
		}
	}
	return append(parts, v[from:])
}

// TrailerOnly tells whether the clause is about any car with a trailer, and
// about nothing else.
func (c Clause) TrailerOnly() bool {
	return len(c.Conditions) == 1 && (c.Conditions[0] == "trailer" || c.Conditions[0] == "caravan")
}
