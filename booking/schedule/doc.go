// Package schedule is the one bridge between bookings and the planner: it
// turns what is on file into a round.Problem, and a round.Plan back into
// visits, reasons in words and a week to look at.
//
// Promises:
//   - A plan that is asked for is worked by one process; when that dies,
//     another begins it again, and after three tries the reader is told.
//   - A plan is shown first. It is accepted as a whole or booking by booking,
//     each time in one transaction, and not when anything it rests on has
//     changed: then it says what.
//   - The planner's referee looks at every plan before it is shown and at the
//     days as they would be before anything is stored.
//   - What was promised stays where it was promised, but for mending a day
//     that goes wrong; what has begun is never moved.
//   - Today is planned after what the phones reported: what has begun keeps
//     its real times, and what is left of it the times to be expected now.
//   - Mending keeps the minute of what need not move, for a price; on 50
//     random troubles of the demo's season it is held to what planning afresh
//     would move and cost, see cmd/drawbar/demo.
//   - The newest acceptance can be undone while nothing of it has moved or
//     begun.
//   - The same data, day, seed and iterations give the same plan.
//   - Every booking without a day carries the true reason in a sentence.
package schedule
