// Package road gives exact driving times between places on a real road network,
// for a train of vehicle and trailer or the vehicle alone.
//
// Import turns an OpenStreetMap extract into a road file; Open reads one. From
// then on a Map answers:
//
//   - Snap: the road a place is reached from, and what speaks against it;
//   - For: a routing.Router for one rig, whose tables are cached;
//   - Costs, Cost, Path: exact milliseconds and decimetres, and the way itself
//     with its road names and what a driver should know beforehand;
//   - WhyNot: why a rig cannot get there;
//   - Check: a table repeated by plain Dijkstra, and what differs (nothing).
//
// A journey is a first leg, a way through, and a last leg. Roads that are not
// for driving through (private and farm roads, driveways, and pockets that only
// those reach) serve the first and last leg only. Turns count, turn
// restrictions hold, and with the trailer on nobody turns round except where
// package drive says how long that takes.
//
// Answers are deterministic and do not depend on what was asked before. A Map
// may be used from many goroutines. A vehicle that is new to a Map costs a
// moment once (0.2 s for 100,000 edges); one that is stopped by the same roads
// as an earlier one costs nothing.
//
// Map data is © OpenStreetMap contributors, under the Open Database Licence;
// Info has the credit line, which belongs wherever a map or time from here is
// shown. Times are for planning: signs, weather and the driver's judgement come
// first.
package road
