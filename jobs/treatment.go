package jobs

import (
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
	"github.com/quagmt/udecimal"
)

// Treatment is a medicine given, as the farmer's medicine book wants it.
type Treatment struct {
	Mob      booking.ID       `json:"mob"`
	Head     int              `json:"head"`
	Animals  string           `json:"animals,omitempty"` // tag numbers or marks, where it was not the whole mob
	Product  string           `json:"product"`
	Batch    string           `json:"batch"`
	Expiry   civil.Date       `json:"expiry"`
	Dose     udecimal.Decimal `json:"dose"` // a head, in Unit
	Unit     string           `json:"unit"`
	Route    Route            `json:"route"`
	Given    civil.Date       `json:"given"`    // day of the last dose, by the yard's calendar
	MeatDays int              `json:"meatDays"` // withdrawal for meat as the label has it
}

// Route a medicine goes in by.
type Route string

// The routes.
const (
	ByMouth   Route = "by mouth"
	UnderSkin Route = "under the skin"
	InMuscle  Route = "in the muscle"
	OnSkin    Route = "on the skin"
	OnFeet    Route = "on the feet"
	OtherWay  Route = "another way"
)

// Routes in the order a form lists them.
var Routes = []Route{ByMouth, UnderSkin, InMuscle, OnSkin, OnFeet, OtherWay}

// Units in the order a form lists them.
var Units = []string{"mL", "mg", "g", "dose", "tablet"}

// Caution goes beside every treatment, on screens and on paper.
const Caution = "Follow the label and your vet. The withdrawal shown is what was entered from the label, counted from the day of the last dose."

// WithdrawalEnds is the last day of the withdrawal period: the day of the
// last dose plus the label's days. Animals may go for meat after it.
func (t Treatment) WithdrawalEnds() civil.Date { return t.Given.AddDays(t.MeatDays) }

// Quantity is all that was given: the dose times the head.
func (t Treatment) Quantity() udecimal.Decimal {
	return t.Dose.Mul(udecimal.MustFromInt64(int64(t.Head), 0))
}

// Expired tells whether the pack was past its date on the day it was given.
// It is recorded all the same, because it happened; the docket says so.
func (t Treatment) Expired() bool { return t.Expiry.Before(t.Given) }

var mostDose = udecimal.MustFromInt64(100_000, 0)

const maxMeatDays = 730

func (t Treatment) check(f fault.Fields) {
	checkMob(f, t.Mob)
	f.Range("head", float64(t.Head), 1, booking.MaxHead, "animals treated")
	f.Text("animals", t.Animals, maxNote, fault.Optional)
	f.Text("product", t.Product, 120, fault.Required)
	f.Text("batch", t.Batch, 60, fault.Required)
	if !t.Dose.IsPos() || t.Dose.GreaterThan(mostDose) {
		f.Add("dose", "Give the dose a head as a number above 0 and up to 100,000, such as 7.5.")
	}
	if !slices.Contains(Units, t.Unit) {
		f.Add("unit", "Choose the unit of the dose from the list.")
	}
	if !slices.Contains(Routes, t.Route) {
		f.Add("route", "Choose how it was given from the list.")
	}
	f.Range("meatDays", float64(t.MeatDays), 0, maxMeatDays, "days of withdrawal for meat, from the label; 0 if the label says none")
	t.checkDays(f)
}

func (t Treatment) checkDays(f fault.Fields) {
	if !t.Given.IsValid() || t.Given.Year < earliest.Year() || t.Given.Year > 2200 {
		f.Add("given", "Give the day of the last dose.")
	}
	if !t.Expiry.IsValid() {
		f.Add("expiry", "Give the expiry date on the pack.")
	}
}
