// Package dbtest gives tests a real database of each engine: a file for
// SQLite, a database of its own on a PostgreSQL server for PostgreSQL. Both
// are copies of a template that is migrated once, so a test costs
// milliseconds; both are gone when the test ends.
//
// The PostgreSQL server is named by the environment variable
// DRAWBAR_TEST_POSTGRES. Without it these tests fail, naming the command to
// run: a suite that leaves out an engine proves nothing about it.
package dbtest
