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
//
//	go run ./cmd/roundbench -seconds 10 -season 400
//
// plans a made-up season of so many visits on the roads of the demo instead,
// -season -1 a row of seasons from 50 to 800 visits, each once in that time and
// once in six times as long: how soon there is a first plan, what it costs then
// and at the end, and the memory the process has had. With -cpu time is that on
// the processor, for machines that are busy with other things; seasons of four
// rigs and more are searched on several, whose time adds up.
package main
