package store

import (
	"context"
	"time"

	"drawbar/jobs"
	"drawbar/migrations/db"

	"gorm.io/gorm"
)

// Store is a jobs.Store on an open database.
type Store struct {
	db  *db.DB
	now func() time.Time
}

var _ jobs.Store = (*Store)(nil)

// New makes a store; the clock stamps what is received and signed.
func New(d *db.DB, now func() time.Time) *Store { return &Store{db: d, now: now} }

func (s *Store) write(ctx context.Context, fn func(tx *gorm.DB) error) error {
	return s.db.InTx(ctx, fn)
}

// stamp is the clock as the database keeps it.
func (s *Store) stamp() time.Time { return s.now().UTC().Truncate(time.Millisecond) }
