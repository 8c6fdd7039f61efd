// Package board is the contractor's side of Drawbar: the week with its
// rounds, the plan and what it would change, each visit and booking, and the
// record of who changed what.
//
// Everything works without a script. Positions on the strips are attributes
// of inline SVG, so the content security policy can forbid inline styles; each
// strip has the same facts beside it as an ordinary list.
package board
