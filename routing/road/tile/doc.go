// Package tile draws imported roads: as vector tiles for a map in the browser,
// and as an SVG picture for where there is no WebGL, and for print.
//
// Vector tiles follow the Mapbox Vector Tile specification, version 2.1 (layer
// version 1, extent 4096), in web mercator tiles. There is one layer, "roads",
// of lines with the properties class (a word of network.Class) and, where they
// have one, name. Small roads appear as one zooms in.
//
// An SVG picture has roads, then the caller's lines and marks. It carries no
// style attributes and no scripts, so it passes a strict content security
// policy; classes on its parts let a page's stylesheet colour it, and without
// one it is legible in black on white. The credit line is part of the picture.
//
// Drives are drawn in a style for each rig: patterns of dashes, so that they are
// told apart without colour, and thinner without the trailer.
//
// Both are pure functions of the map: same input, same bytes.
package tile
