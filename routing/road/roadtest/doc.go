// Package roadtest gives tests real road networks: the extracts of Delaware and
// Andorra that the module github.com/paulmach/osm carries in its testdata
// (map data © OpenStreetMap contributors, ODbL).
package roadtest
