// Package tag reads the values of OpenStreetMap tags: speeds, lengths, masses,
// slopes, durations, conditions, and, from a way's or node's tags together,
// who may drive there. It follows the pages of the OpenStreetMap wiki named at
// each function. What it cannot read, it says it cannot; it never panics and
// never guesses.
package tag
