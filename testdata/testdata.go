// Package testdata carries the files of the demo: an invented contractor with
// invented farms and people, standing at plausible rural points in Delaware
// that are nobody's holding.
package testdata

import "embed"

// Demo holds demo/*.json.
//
//go:embed demo/*.json
var Demo embed.FS

// Roads is the road file of the demo, © OpenStreetMap contributors, ODbL; see
// roads/README.md.
//
//go:embed roads/delaware.road
var Roads []byte
