// Package store keeps what phones recorded and the dockets that were signed,
// the same on both engines. An event is stored once, however often and from
// however many senders at once it comes; a signed docket never changes, which
// the database enforces as well.
package store
