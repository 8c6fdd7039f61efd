// Package learn turns signed dockets into what package pace knows of services,
// farms and crews.
//
// The time of each docket is compared, on a log scale, with what the base
// values expect of the same job. The difference is shared out between the
// services done, the two motions of every visit, the crew, the farm and the
// day, each with a spread estimated from all dockets together: a service done
// on many farms moves fast, a farm seen once moves little, a farm seen five
// times counts. Set-up and pack-down are learned in the same way, without
// services. This is empirical-Bayes shrinkage (Efron & Morris 1977, Scientific
// American 236(5); Morris 1983, J. Am. Stat. Assoc. 78:47), done for all
// effects at once as in a mixed model with crossed effects.
//
// # Promises
//
//   - Pure and repeatable: the same dockets in the same order give the same result.
//   - A docket whose time fits nothing else known (a paused timer, a wrong count)
//     hardly moves anything, and is named in Result.Odd. Nothing is dropped unseen.
//   - A docket that cannot be used at all is named in Result.Unused with the
//     field at fault.
//   - Twenty thousand dockets take less than two seconds on one core (see the
//     benchmark).
package learn
