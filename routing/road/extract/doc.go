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
// Tags are read as the OpenStreetMap wiki describes them. Map data is
// © OpenStreetMap contributors, under the Open Database Licence.
package extract
