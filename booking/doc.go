// Package booking knows the trade: farms and their yards, rigs and the people
// who go with them, mobs, services, bookings and visits; what each may be,
// who may change it and how a booking becomes a visit.
//
// Promises:
//   - It imports no web framework and no database; rows live in store.
//   - Every method of Store is one transaction, and every one that changes
//     something writes a Change in it: who, when, what.
//   - A rig is never booked twice at the same time; the database enforces it.
//   - Instants are UTC; calendar days are civil.Date in the business's zone.
package booking
