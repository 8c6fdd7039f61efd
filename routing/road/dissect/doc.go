// Package dissect puts the edges of a road network in an order that makes
// contraction cheap: few edges cut the network in two, so those come last; the
// two sides are ordered the same way, each on its own (nested dissection,
// George 1973).
//
// Edges, not vertices, are cut, because with turns the states of a search are
// the directed edges (Buchhold et al., ATMOS 2020). Cuts come from inertial
// flow (Schild and Sommer, SEA 2015): sort the vertices along a line, join the
// first quarter to a source and the last to a sink, and take a minimum cut
// between them; the best of four lines wins. Dead ends and chains are taken
// out first, as they need no cuts.
//
// Everything is deterministic: the same input gives the same order.
package dissect
