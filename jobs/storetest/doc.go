// Package storetest holds a jobs.Store to its contract, the same checks for
// every engine: events kept once under any resend, dockets that never change,
// visits and bookings that move on with them.
package storetest
