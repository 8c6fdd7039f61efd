// Package migrations holds the schema of both engines as numbered SQL files
// and brings a database to it: the business's own tables first, then those
// of the background work. The schema is the one thing that decides what a
// database can hold; Go types follow it.
//
// Up may be run by several processes at once on PostgreSQL, where one of
// them works and the others wait. On SQLite one process migrates. Check is
// for servers: it changes nothing, and refuses a schema that is older or
// newer than the program with a sentence that says what to run.
package migrations
