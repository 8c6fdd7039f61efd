// Package office is where the business is kept in order: money (prices, the
// month run, invoices, payments), farms and yards, and settings. Everything
// is a plain form that keeps what was typed.
package office
