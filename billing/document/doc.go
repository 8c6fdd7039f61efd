// Package document draws invoices and credit notes as PDF: A4, or US Letter
// where that is the usual paper. It is pure.
//
// Promises:
//   - The same document gives the same bytes: the only date inside is the
//     date of the document.
//   - What Art. 226 of Directive 2006/112/EC asks for is on the page: dates,
//     number, both parties with address and tax number, what was done and
//     when, unit prices, the tax base, rate and amount by category, and the
//     reason where there is no tax.
//   - A table that runs over a page begins anew with its head; a line is
//     never split, and the totals stay together.
//   - Any text can be printed. Letters outside the font (Go Regular and Bold:
//     Latin, Greek, Cyrillic) come out as an empty box.
package document
