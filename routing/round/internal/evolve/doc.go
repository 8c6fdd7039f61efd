// Package evolve improves plans of rigs that are home every night by hybrid
// genetic search (Vidal, Crainic, Gendreau & Prins 2013, Computers &
// Operations Research 40:475): plans are crossed by exchanging routes (after
// Nagata, Bräysy & Dullaert 2010, Computers & Operations Research 37:724) and
// then driven to a local optimum. On the way a plan may be late or overloaded
// at a price that adapts, so that the search can pass between plans that
// insertion alone does not connect.
//
// A route is one rig on one day. Visits that are split, hygiene and nights out
// are left to package search; Suits tells whether a model is without them.
//
// Promises: no I/O, no clock, no randomness but the generator handed in.
package evolve
