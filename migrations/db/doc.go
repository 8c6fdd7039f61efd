// Package db opens the business's database on either engine and gives every
// store the same three promises on both:
//
//   - a transaction sees and leaves a consistent database: InTx is
//     serializable (SQLite takes its write lock at once, PostgreSQL runs at
//     its serializable level) and is run again when the engine asks for it,
//     so the function handed to InTx must touch nothing but its transaction;
//   - times are stored and come back in UTC;
//   - what the engines report becomes one vocabulary, drawbar/booking/fault.
//
// SQLite is the default and is opened by a file path; PostgreSQL, for several
// people or processes, by a postgres:// address. Transactions do not nest: on
// SQLite a second InTx inside the first would wait for itself.
package db
