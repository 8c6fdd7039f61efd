// Package extract makes a road network from an OpenStreetMap extract, in one
// of three formats: .osm.pbf, .osm.bz2 and .osm.
//
// The file is read twice: first for ways and turn restrictions, then for the
// positions of the nodes they use. Roads for cars are kept and cut where they
// meet; gates, grids, fords and height bars become edges of no length, so that
// everything a driver meets is on some edge. Then the network is looked at as
// a whole: what can be driven through is kept apart from what is only good for
// the first and last leg (private and farm roads, and any pocket that only
// they reach), and the edges are put in the order in which they are to be
// contracted.
//
// Measured on one core of a 2-core virtual machine in November 2026, on
// Delaware (0.72 million nodes, 47,420 car roads) and on 2 to 16 copies of it
// joined by main roads: time and memory grow with the size of the file. A
// million nodes take some 3 s and, beyond the first, 75 MB; they make 3.2 MB of
// road file, which opens in 0.3 s and takes 80 MB with one vehicle. Delaware
// itself: 3.4 s, 175 MB. For 20 million nodes that makes a minute, 1.6 GB,
// 65 MB of file, 6 s to open and 1.6 GB in use.
//
// Tags are read as the OpenStreetMap wiki describes them. Map data is
// © OpenStreetMap contributors, under the Open Database Licence.
package extract
