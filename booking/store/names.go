package store

import (
	"slices"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
)

// byName puts what comes in order of age into the order of its names, as
// people look names up: case and accents decide last. The engines' own orders
// differ from each other and with the server's settings.
func byName[T any](all []T, name func(T) string) []T {
	order := collate.New(language.Und)
	slices.SortStableFunc(all, func(a, b T) int { return order.CompareString(name(a), name(b)) })
	return all
}
