// Package schedule is the one bridge between bookings and the planner: it
// turns what is on file into a round.Problem, and a round.Plan back into
// visits, reasons in words and a week to look at.
//
// Promises:
//   - A plan is proposed first and applied as a whole, or not at all when
//     anything it rests on has changed.
//   - What was promised stays where it was promised; what has begun is never
//     moved.
//   - The same data, day and clock give the same proposal.
//   - Every booking without a day carries the true reason in a sentence.
package schedule
