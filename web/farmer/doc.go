// Package farmer is what a farmer sees, without an account: the front page,
// the booking form with its length and price, and a booking opened by the
// link that was mailed.
//
// A link opens its own booking or farm and nothing else, and no page tells
// whether a mail address is on file. The form works without a script; with
// one, length and price follow as one types.
package farmer
