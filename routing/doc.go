// Package routing says how far apart two places are for a vehicle, with the
// rig hitched or without it.
//
// A Router turns places into a Table of Legs: seconds and metres from every
// place to every other. Two routers exist: routing/road drives an imported
// road network; Estimator, here, needs no map and multiplies the great-circle
// distance by a detour factor. Whatever comes from the Estimator is marked
// Estimate, so that no screen passes a guess off as a measurement.
//
// Promises: pure, no I/O, safe for concurrent use; a Table never changes once
// made; the Router that Roads gives a rig drives where that rig fits; a Leg from a place to itself is reachable and zero; seconds and metres
// are never negative.
package routing
