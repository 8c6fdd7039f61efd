// Package sample makes invented farms, yards, rigs, people, bookings and
// visits for tests. Everything it makes passes the checks of package booking,
// has an id and, where names have to differ, a name of its own, and can be
// stored as it is. Change a field where the test is about that field.
package sample
