package booking

import "time"

// Change is one line of the record of who changed what and when. It is
// written in the same transaction as the change and never edited.
type Change struct {
	ID      ID
	At      time.Time
	Who     Actor
	Verb    string // what was done, in the past tense: "moved", "signed off"
	Kind    string // what it was done to: "visit", "farm"
	Subject ID
	Detail  string // a sentence for people
}

// ChangeQuery picks changes, newest first. Zero fields do not restrict.
type ChangeQuery struct {
	Kind    string
	Subject ID
	Before  time.Time
	Limit   int // at most 500; 0 means 100
}
