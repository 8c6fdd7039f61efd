// Package offer decides which days a farmer may take without waiting for an
// answer: those that fit beside everything placed, as the planner prices them,
// with a crew home in time and the work done by daylight.
//
// Only farms that the contractor has been to may take a day; a new yard is
// spoken about first. Two farmers never get the same time: the second one is
// told that the day is gone, and nothing is stored.
package offer
