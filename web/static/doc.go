// Package static serves the stylesheet, scripts and pictures that are built
// into the program.
//
// Promises:
//   - Nothing is fetched from another server, neither by us nor by a page.
//   - Addresses carry a hash over all files: a browser keeps them for a year
//     and still sees every change at once. Files may name each other by
//     relative addresses.
//   - Only the kinds of file that a page needs are served.
package static
