// Package say puts days, times of day and lengths of time into the words that
// every screen, letter and document uses. It imports nothing of the project.
package say
