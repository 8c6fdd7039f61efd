package billing

import (
	"time"

	"drawbar/booking"

	"cloud.google.com/go/civil"
)

// MonthRun is where the billing of a month has got to.
type MonthRun struct {
	Month    Month     `json:"month"`
	State    RunState  `json:"state"`
	Started  time.Time `json:"started,omitzero"`
	Finished time.Time `json:"finished,omitzero"`
}

// RunState is the state of a month run.
type RunState string

// The states of a month run.
const (
	NotRun  RunState = "not run" // only ever previewed
	Running RunState = "running" // under way, or stopped half-way: run it again
	RunDone RunState = "done"
)

// Preview is what a run of the month would do now.
type Preview struct {
	Run    MonthRun     `json:"run"`
	Farms  []FarmCharge `json:"farms"`  // what would be invoiced, by farm and price list
	Held   []Held       `json:"held"`   // what would be left out, and why
	Totals []Money      `json:"totals"` // gross, one for each currency
}

// FarmCharge is one invoice that would be made.
type FarmCharge struct {
	FarmID   booking.ID `json:"farm"`
	Name     string     `json:"name"`
	Invoice  Invoice    `json:"invoice"`  // without a number
	Warnings []string   `json:"warnings"` // sentences to look at before running
}

// Held is a signed docket that cannot be billed as it is.
type Held struct {
	DocketID booking.ID `json:"docket"`
	FarmID   booking.ID `json:"farm"`
	Farm     string     `json:"name"`
	Day      civil.Date `json:"day"`
	Yard     string     `json:"yard"`
	Why      string     `json:"why"` // a sentence with the way out
}

// RunResult is what a run did.
type RunResult struct {
	Run    MonthRun  `json:"run"`
	Issued []Invoice `json:"issued"` // by this run, in order of number
	Held   []Held    `json:"held"`
}

// Billed is what became of a docket.
type Billed struct {
	Invoice  Reference // zero where it was waived
	Waived   string    // why it is not billed
	Credited bool      // every line of it was taken back
}
