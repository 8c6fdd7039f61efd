// Package season says when a visit may be: how long there is light to work
// by, which days suit the animals, which days are public holidays, and when
// it is too hot to keep a mob in the yard.
//
// Promises:
//   - Pure: no clock, no network, no database; the same question gets the
//     same answer, from any number of goroutines.
//   - Instants are UTC; calendar days are civil.Date in the zone of the caller.
//   - Every piece of advice names what it rests on, a published source or
//     common practice, and none of it replaces the vet, the label of a
//     medicine or the local rules.
package season
