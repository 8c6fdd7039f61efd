// Package signin lets people of the business in and out: by a mailed link
// that works once, or by mail address and password.
//
// Promises:
//   - Whether an address is known is never told, neither by an answer nor by
//     how long it takes.
//   - A link shows a page with a button and is spent by that button, so that
//     a program that looks at the links in mails does not use one up.
//   - Tries are limited by sender and by mail address.
//   - Nobody is led to another site after signing in.
package signin
