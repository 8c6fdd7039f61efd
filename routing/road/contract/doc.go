// Package contract builds customisable contraction hierarchies over any
// directed graph whose nodes are numbered in elimination order (0 first).
//
// The work is split in three, as in Dibbelt, Strasser and Wagner,
// "Customizable Contraction Hierarchies" (ACM JEA 21, 2016), with the
// directed fill-in that Buchhold, Wagner, Zeitz and Zündorf use for turns
// ("Customizable Contraction Hierarchies with Turn Costs", ATMOS 2020):
//
//   - Build finds, once per graph and order, which shortcuts can ever be
//     needed. It never looks at a cost.
//   - Topology.Customize gives every shortcut its cost for one set of arc
//     costs, then drops each one that is longer than a detour over higher
//     nodes. This is what a new vehicle or new speeds need.
//   - Metric answers: labels, one pair, whole tables, unpacked paths.
//
// Costs are uint64 and must stay below Inf when summed along any path.
// Zero-cost arcs, parallel arcs, loops and unreachable parts are all fine.
// A Topology and a Metric are immutable after they are made and may be used
// from many goroutines; a Search is scratch space for one goroutine.
package contract
