// Package demo loads an invented business to try Drawbar out: a contractor
// with two rigs, a season behind and three weeks ahead, relative to today.
//
// Promises: the same seed and day give the same business; everything goes
// through the same rules as real entries; a database that has a business
// already is left alone.
package demo
