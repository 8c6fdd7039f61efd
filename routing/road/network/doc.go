// Package network holds an imported road network: what is stored (Roads) and
// the turn graph that is derived from it (Turns).
//
// A vertex is a place where roads meet, end, or change in a way that matters.
// An edge is a piece of road between two vertices. Edge e has two arcs: 2e
// along it and 2e+1 against it. What is common to many edges (class, access,
// limits, surface) is a Kind, kept once.
//
// A search moves from arc to arc, not from vertex to vertex, so every turn can
// be judged. A state is an arc together with as much of the way before it as
// some longer turn restriction needs to know; for nearly all arcs that is
// nothing, and state and arc are the same number.
//
// Units: positions in millionths of a degree (WGS 84), lengths in decimetres,
// widths in centimetres, masses in kilograms, speeds in km/h.
package network
