// Package store keeps bookings, farms, rigs and people in the database, the
// same on both engines. Every method is one transaction; what it changes is
// written to the record of changes in that transaction.
package store
