package store

import (
	"context"
	"time"

	"drawbar/billing"
	"drawbar/booking"
	bookings "drawbar/booking/store"
	"drawbar/migrations/db"

	"cloud.google.com/go/civil"
	"gorm.io/gorm"
)

// Store is a billing.Store on an open database.
type Store struct {
	db  *db.DB
	now func() time.Time
}

var _ billing.Store = (*Store)(nil)

// New makes a store; the clock stamps documents and the record of changes.
func New(d *db.DB, now func() time.Time) *Store { return &Store{db: d, now: now} }

// record writes one line of who changed what, in the transaction of the
// change.
func (s *Store) record(ctx context.Context, tx *gorm.DB, verb, kind string, subject booking.ID, detail string) error {
	return bookings.Record(ctx, tx, s.now(), verb, kind, subject, detail)
}

// dateText keeps a day that may be missing; "" for none.
func dateText(d civil.Date) string {
	if !d.IsValid() {
		return ""
	}
	return d.String()
}

func dateOf(text string) civil.Date {
	d, _ := civil.ParseDate(text) // "" and nothing else fails: dateText wrote it
	return d
}

// millis and instant are how instants are kept.
func millis(t time.Time) int64 {
	if t.IsZero() {
		return 0
	}
	return t.UnixMilli()
}

func instant(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms).UTC()
}

// optional is nil for no id, as a column that refers to a row wants it.
func optional(id booking.ID) *booking.ID {
	if id == "" {
		return nil
	}
	return &id
}

func required(id *booking.ID) booking.ID {
	if id == nil {
		return ""
	}
	return *id
}
