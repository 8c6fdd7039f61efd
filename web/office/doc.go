// Package office is where the business is kept in order: money (prices, the
// month run, invoices, payments), farms and yards, and settings. Everything
// is a plain form that keeps what was typed, says all that is wrong at once
// and, where somebody else was quicker, what is on file now.
//
// Settings and people are the owner's alone; the rest is open to the office
// as well. A business starts from nothing: the first save of its details
// brings the standard services with it.
package office
