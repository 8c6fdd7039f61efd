// Package roadmap draws the imported roads for pages: vector tiles for the map
// in the browser, and the picture in their place where there is no WebGL or no
// script.
//
// Tiles are served to whoever the group they are mounted on lets in, with an
// address that names the road file, so that browsers keep them. Tiles and
// pictures that were drawn lately are kept, a bounded number of each. An Atlas
// without imported roads draws pictures of straight lines and has no tiles.
//
// Nothing here asks another server for anything.
package roadmap
