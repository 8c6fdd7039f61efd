// Package jobs is the record brought back from a visit: the events a phone
// makes at the yard, the docket they add up to, and what is frozen when the
// farmer signs.
//
// Promises:
//   - A docket is a pure fold of a set of events: the order they arrive in and
//     how often they arrive change nothing, and the phones on one visit add up.
//   - One bad event never holds up the others of its batch; each gets its own
//     answer.
//   - A signed docket never changes. Its content is sealed by the SHA-256 of
//     its RFC 8785 form; what is wrong in it is mended by another docket that
//     supersedes it and says why.
//   - Treatments hold what a keeper has to write down on giving a medicine:
//     product, date, quantity, withdrawal period, identity of the animals
//     (source: UK SI 2013/2033 regulation 19(2)), with batch and expiry beside
//     it. Keepers keep those records for five years (regulation 17 and 19), so
//     nothing here deletes one. The label and the vet decide; this only
//     remembers what was entered.
//   - It imports no web framework and no database; rows live in store.
package jobs
