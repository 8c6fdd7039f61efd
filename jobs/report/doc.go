// Package report tells the planner how far visits are, from what the phones
// have sent in.
package report
