// Package kit lists what to load for a visit: doses by weight class with some
// over and in whole packs, tags, needles, blades, disinfectant, fuel.
//
// # Promises
//
//   - Pure: it computes from the job and the products named, nothing else.
//   - Doses follow the heaviest animal of each weight class, never the mean, and
//     are computed exactly from the label's figures given; nothing is assumed of a
//     product.
//   - Every line says how it was reckoned and carries its caution.
//   - The list is help for loading a truck. It is no advice on medicines: the
//     label and the vet decide what is given, to which animals, and how much.
package kit
