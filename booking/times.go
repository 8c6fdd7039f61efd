package booking

import (
	"errors"
	"fmt"
	"math"
	"time"

	"drawbar/booking/fault"
	"drawbar/booking/pace"

	"cloud.google.com/go/civil"
)

// BaseTime is a base value of the time model that the business has put in
// place of the one it started with.
type BaseTime struct {
	pace.Prior
	Version int
}

// Key names the place of the row: service/animals, such as "drench/lamb"; every
// animal is "drench/all".
func (b BaseTime) Key() string {
	covers := b.Covers()
	if covers == "" {
		covers = "all"
	}
	return b.Code + "/" + covers
}

// Since is the day the value was entered.
func (b BaseTime) Since() civil.Date {
	day, err := civil.ParseDate(b.Date)
	if err != nil {
		return civil.Date{}
	}
	return day
}

// Check says what is wrong with the entries, field by field.
func (b BaseTime) Check() error {
	var bad *pace.Error
	if err := b.Prior.Check(); errors.As(err, &bad) {
		return fault.Fields{bad.Field: bad.Sentence}.Err()
	}
	return nil
}

// String says it in a line: "Drenching, lambs: 12 s a head, spread 35 %, own".
func (b BaseTime) String() string {
	animals := "all animals"
	if covers := b.Covers(); covers != "" {
		animals = covers
	}
	return fmt.Sprintf("%s, %s: %s s a head, spread %.0f %%, %s", b.Word(), animals, trimmed(b.Seconds), 100*b.CV, b.Origin)
}

// trimmed is a number with a tenth where it has one.
func trimmed(x float64) string { return fmt.Sprintf("%g", math.Round(10*x)/10) }

// Priors is the table the business's estimates stand on: the one everybody
// starts with, and its own rows in place.
func Priors(own []BaseTime) pace.Priors {
	rows := make([]pace.Prior, len(own))
	for i, b := range own {
		rows[i] = b.Prior
	}
	return pace.DefaultPriors().With(rows)
}

// PaceModel is what signed dockets have taught about time.
type PaceModel struct {
	Version int // counts up; 0 before anything was learned
	Made    time.Time
	Basis   string // what it was learned from; a model of the same basis is the same
	Dockets int    // how many it rests on
	Learned *pace.Learned
	Looks   []Look
}

// Look is a signed docket that somebody should look at, because its time fits
// nothing else known, or cannot be used. Nothing is dropped unseen.
type Look struct {
	Docket   ID     `json:"docket"`
	Sentence string `json:"sentence"`
}

// LookAt is what should be looked at on a docket.
func (m PaceModel) LookAt(docket ID) (sentences []string) {
	for _, l := range m.Looks {
		if l.Docket == docket {
			sentences = append(sentences, l.Sentence)
		}
	}
	return sentences
}
