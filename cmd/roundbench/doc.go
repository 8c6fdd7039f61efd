// Command roundbench measures the planner on public vehicle-routing instances.
//
//	go run ./cmd/roundbench -seconds 10 DIR
//
// DIR holds instances with time windows in Solomon's text format and, if
// known, best-known.csv with the columns instance and distance_trunc1. Every
// instance becomes an ordinary problem of one day: a rig is a vehicle with its
// capacity, a visit a customer, a place a point; distances and times are
// Euclidean, cut to one decimal (the convention of the 12th DIMACS challenge).
// Each plan goes through the referee, and its distance is added up anew from
// the coordinates. The last line is "gap X.XX % over N instances".
package main
