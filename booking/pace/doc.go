// Package pace says how long a visit will take and how sure that is.
//
// Time at a yard is set-up, work, wall and gate changes, breaks, pack-down and
// wash-down. Work is a short line of stations: forcing pen, lead-up race of
// some places, crate, gate. With one pair of hands, pushing up and working
// follow each other; with a pusher they overlap and the slower one sets the
// pace. Services at the front and at the back of an animal overlap only with
// hands for both.
//
// # Promises
//
//   - Pure: no input or output, no clock, no randomness; the same job and model
//     always give the same estimate. A Model is never changed after NewModel and
//     may be shared between goroutines.
//   - Every base value is an editable prior with its spread and its origin. What
//     has no published source says "common practice" and starts wide.
//   - Doubt is kept in three kinds: about a service as such, about this farm,
//     crew and day, and from one head to the next. Only the last one averages
//     out over a long mob.
//   - Times of a whole visit follow a log-normal with the mean and variance of
//     the parts together. Durations of human work fit it better than a normal
//     (Strum et al. 2003, Anesthesiology 98:232).
//   - Bad input gives an *Error that names the field; nothing panics.
//
// Times are advice for planning. Animals, heat, footing and people come first;
// where the law or a vet asks for slower work, that holds.
package pace
