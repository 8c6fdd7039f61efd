// Package storetest is what every booking.Store has to pass. It knows the
// interface and nothing of the database behind it; a store runs it on each
// engine:
//
//	dbtest.Each(t, func(t *testing.T, d *db.DB) { ... })
//
// What it holds a store to: what goes in comes out the same, times in UTC to
// the millisecond; a save on an old version changes nothing; what changes is
// in the record, under who did it, and what fails is not; a link is spent
// once; a rig is at one yard at a time, whoever writes and however many.
package storetest
