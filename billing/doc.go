// Package billing turns signed work into money: price lists, charges with a
// sentence for each, invoices, credit notes, the month run, payments and who
// owes what.
//
// Promises:
//   - It imports no web framework and no database; rows live in store.
//   - Money is whole minor units of an ISO 4217 currency; every rounding is
//     half away from zero and happens once for each line and once for each
//     tax category. The lines add up to the total exactly.
//   - A booking form and an invoice are priced by one function, Quote.
//   - A signed docket is billed at most once. Numbers have no gaps within a
//     series. An issued document never changes: not its lines, not a byte of
//     its PDF. Mistakes are mended by credit notes.
//   - A month run may be stopped anywhere and run again: it goes on where it
//     stopped, and changes nothing once all is billed.
//   - Pure functions may be called from anywhere at once; a Biller too.
package billing
