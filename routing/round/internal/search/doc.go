// Package search is the engine of the planner: the same problem as package
// round, in numbers instead of names, and the moves that make a plan better.
//
// A plan is, for each rig and day, a list of stops. Everything else is
// derived: the best pattern of nights comes from a small dynamic programme
// over the days of a rig, and the time a day takes from segments that join in
// constant time (Vidal, Crainic, Gendreau & Prins 2013, Computers & Operations
// Research 40:475), so that a stop is tried at a place without walking the day.
//
// Promises: no I/O, no clock, no randomness but the generator handed in; money
// is in ticks and exact. A State is for one goroutine, a Model may be shared. A
// Team has a goroutine for each of its searches; what it finds depends on the
// seed and the number of turns alone, unless its time is limited: then a slow
// processor does less instead of keeping the others.
package search
