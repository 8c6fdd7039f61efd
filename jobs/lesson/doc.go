// Package lesson learns how long work takes from signed dockets and puts what
// it learned to use.
//
// # Promises
//
//   - Each standing docket is looked at once when it is signed, with mobs, yard
//     and rig as they were entered then, and once more after half a day, for
//     packing down follows signing. A correction takes the place of the docket
//     it corrects.
//   - Nothing is learned again while no docket and no base time has changed, so
//     Teach may be called every minute.
//   - A docket whose time fits nothing else known, or cannot be used, is named
//     in the model's Looks; it is never dropped unseen.
//   - Several processes may teach and refresh on one database: the newest
//     version is used by all.
package lesson
